"""The store: settings and log as JSON files that are always whole."""

from pottyboard.store.dog_log import DogLog
from pottyboard.store.household import Household
from pottyboard.store.system.errors import StoreError
from pottyboard.store.undo_history import Undone

__all__ = ["DogLog", "Household", "StoreError", "Undone"]
