"""What a screen or a widget may ask of the app that shows it, without knowing the app."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol, cast


class Keymapped(Protocol):
    """An app with a keymap: the keys of an action's id, where they are not its default ones."""

    @property
    def keymap(self) -> Mapping[str, str]: ...


def keymap_of(app: object) -> Mapping[str, str]:
    """Return the keymap of the app that shows a widget."""
    return cast("Keymapped", app).keymap
