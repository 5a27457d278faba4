"""The pages beside the day: each is loaded when it opens, so that the first paint loads none."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from textual.screen import Screen

from pottyboard.board.control.entries import Entries


def page_named(name: str, entries: Entries, keymap: Mapping[str, str]) -> Screen[Any]:
    """Return the page that an action of this name opens; ``keymap`` names the keys on it.

    Raises ``LookupError`` for any other name.
    """
    match name:
        case "hold":
            from pottyboard.board.screens.hold import HoldScreen

            return HoldScreen(entries)
        case "away":
            from pottyboard.board.screens.away import AwayScreen

            return AwayScreen(entries)
        case "evening":
            from pottyboard.board.screens.evening import EveningScreen

            return EveningScreen(entries)
        case "fortnight":
            from pottyboard.board.screens.fortnight import FortnightScreen

            return FortnightScreen(entries, keymap)
        case "ahead":
            from pottyboard.board.screens.ahead import AheadScreen

            return AheadScreen(entries)
        case "places":
            from pottyboard.board.screens.places import PlacesScreen

            return PlacesScreen(entries)
        case "causes":
            from pottyboard.board.screens.cause import CauseScreen

            return CauseScreen(entries)
        case "warnings":
            from pottyboard.board.screens.warnings import WarningsScreen

            return WarningsScreen(entries)
    raise LookupError(f"there is no page “{name}”")
