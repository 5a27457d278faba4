"""What lies over the board still says: how things stand with the dog, and its next break."""

from __future__ import annotations

from typing import Protocol, cast

from pottyboard.core.view.situation import Situation


class WithDog(Protocol):
    """An app that shows a dog's board, or None while the first one is being set up."""

    @property
    def standing(self) -> Situation | None: ...


def standing_of(app: object) -> Situation | None:
    """Return the situation on the board of the app that shows a widget."""
    return cast("WithDog", app).standing
