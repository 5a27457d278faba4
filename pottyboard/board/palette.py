"""The command palette: the same actions that the keys have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any, Final

from textual.app import App, SystemCommand
from textual.command import CommandPalette
from textual.screen import Screen

from pottyboard.board.keys.actions import ACTIONS
from pottyboard.board.keys.keymap import key_words

_ASKED: Final = "What do you want to do? Such as: meal, warnings, undo"


class WithPalette(App[int]):
    """An app whose palette asks in words of ours."""

    def action_command_palette(self) -> None:
        """Open the palette, unless it is open."""
        if not isinstance(self.screen, CommandPalette):
            self.push_screen(CommandPalette(placeholder=_ASKED, id="--command-palette"))


def commands_of(screen: Screen[Any], keymap: Mapping[str, str]) -> Iterator[SystemCommand]:
    """Yield a command for each action of the board that ``screen`` shows."""
    for action in ACTIONS:
        if action.id in ("clear", "shorten"):
            continue
        keys = key_words(action, keymap)
        words = f"{action.help} ({keys})" if keys else action.help
        run = partial(screen.run_action, action.call)
        yield SystemCommand(action.words.capitalize(), words, run)
