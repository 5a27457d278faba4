"""Which form of the set-up opens: each is loaded only then, so that the first paint loads none."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pottyboard.board.control.entries import Clock
    from pottyboard.board.set_up.full_form import SetupScreen
    from pottyboard.store import DogLog, Household


def setup_screen(
    household: Household, dog_log: DogLog | None, now: Clock, *, whole: bool, plain: bool
) -> SetupScreen:
    """Return the ``whole`` set-up, or for the first dog of a home the questions of a first start.

    Raises :class:`StoreError` if the answers of ``dog_log`` cannot be read.
    """
    from pottyboard.board.set_up.first_form import FirstForm
    from pottyboard.board.set_up.full_form import SetupScreen

    if dog_log is None and not whole:
        return FirstForm(household, now, plain=plain)
    return SetupScreen(household, dog_log, now, plain=plain)
