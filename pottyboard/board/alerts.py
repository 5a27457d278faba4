"""When the bell rings: once when a break falls due, once more when it is late."""

from __future__ import annotations

from pottyboard.core.situation import Situation, State


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
            return before != "late"
        return self._last == "due" and before not in ("due", "late")
