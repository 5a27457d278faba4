"""When the bell rings: once when a break falls due; in the first two weeks once more when late."""

from __future__ import annotations

from pottyboard.core.model import figures
from pottyboard.core.view.situation import Situation, State


class Alerts:
    """Remembers the last state that was seen, so that each change rings once.

    The first look rings for nothing: whoever has just opened the board is reading it.
    """

    def __init__(self) -> None:
        """Begin without a state."""
        self._last: State | None = None

    def rings(self, situation: Situation) -> bool:
        """Return whether the bell rings for this situation, and remember its state."""
        before, self._last = self._last, situation.next_break.state
        if before is None or not situation.settings.board.bell:
            return False
        if self._last == "late":
            calm = situation.round_day > figures.PROGRAMME_DAYS
            return before not in (("due", "late") if calm else ("late",))
        return self._last == "due" and before not in ("due", "late")
