"""The first start: three questions and a choice, then the board; the rest is an open job there."""

from __future__ import annotations

from typing import ClassVar, Final

from pottyboard.board.control.entries import Clock
from pottyboard.board.set_up.full_form import SetupScreen
from pottyboard.board.widgets.form import Line
from pottyboard.core.model.questions import BY_KEY, SPECIAL
from pottyboard.store import Household

_ASKED: Final = ("name", "weight", "arrived")
_SPECIAL: Final = Line(
    "special",
    "Special",
    "left and right arrow choose; what changes the first days most. The rest can wait.",
    tuple(SPECIAL),
)


class FirstForm(SetupScreen):
    """Asks what the board cannot do without; returns the new dog's record, or None after escape.

    The answers that were given are saved, no others: the usual ones hold until the whole set-up is
    opened.
    """

    KEYS: ClassVar = "enter: next   ctrl+s: to the board   esc: leave"

    def __init__(self, household: Household, now: Clock, *, plain: bool = False) -> None:
        """Ask for the first dog of a household; ``plain`` glyphs on demand."""
        super().__init__(household, None, now, plain=plain)
        self._zone = self._answers["zone"]
        self._answers = {key: self._answers[key] for key in _ASKED} | {
            _SPECIAL.key: next(iter(SPECIAL))
        }
        self._before = dict(self._answers)
        self.add_class("-first")

    def _title(self) -> str:
        return "A new dog: three questions and a choice, then the board"

    def _lines(self) -> list[Line]:
        asked = [BY_KEY[key] for key in _ASKED]
        return [*(Line(each.key, each.label, each.help) for each in asked), _SPECIAL]

    def _parted(self) -> tuple[dict[str, str], dict[str, str]]:
        answers, of_the_home = super()._parted()
        special = answers.pop(_SPECIAL.key)
        return {**answers, "zone": self._zone, **SPECIAL.get(special, {})}, of_the_home
