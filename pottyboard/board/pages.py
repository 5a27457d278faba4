"""The pages of the board: each is loaded when it opens, so that the first paint loads none."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from textual.screen import Screen

from pottyboard.board import screens
from pottyboard.board.control.entries import Entries
from pottyboard.board.keys.actions import BY_ID


def page_named(name: str, entries: Entries) -> Screen[Any]:
    """Return the page that an action of this name opens.

    Raises ``LookupError`` for any other name.
    """
    action = BY_ID.get(name)
    if action is None or not action.page:
        raise LookupError(f"there is no page “{name}”")
    module, _, screen = action.page.partition(".")
    page: Screen[Any] = getattr(import_module(f"{screens.__name__}.{module}"), screen)(entries)
    return page
