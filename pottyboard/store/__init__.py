"""The store: settings and log as JSON files that are always whole."""

from pottyboard.store.errors import StoreError
from pottyboard.store.household import Household
from pottyboard.store.record import Record, Undone

__all__ = ["Household", "Record", "StoreError", "Undone"]
