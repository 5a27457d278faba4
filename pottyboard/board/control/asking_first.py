"""The question before something goes that another person logged, or that is old."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from pottyboard.board.text.saved import delete_question, undo_question
from pottyboard.core.log.past_change import PastChange, logged
from pottyboard.core.model.events import Event
from pottyboard.core.view.situation import Situation


class AskingFirst:
    """Knows what this board has logged, by whomever, and whether its last key saved nothing."""

    def __init__(self) -> None:
        """Begin with nothing logged."""
        self._ours: set[str] = set()
        self.refused = False

    def logged(self, events: Iterable[Event]) -> None:
        """Remember what is being logged here."""
        self._ours.update(event.id for event in events)

    def undoing(self, past: PastChange | None, view: Situation, now: datetime) -> str:
        """Return what is to be asked before a change is taken back, empty where nothing is."""
        by = "" if past is None else self._by(past, view)
        return undo_question(past, by, view.settings, now, refused=self.refused)

    def deleting(self, event: Event, view: Situation, now: datetime) -> str:
        """Return what is to be asked before an entry is deleted, empty where nothing is."""
        past = logged(event)
        return delete_question(past, self._by(past, view), view.settings, now)

    def _by(self, past: PastChange, view: Situation) -> str:
        """Return who takes it away: what was logged here is this board's, whoever is on duty now.

        What several people did is nobody's; nor is a board's where nobody is on duty.
        """
        is_ours = self._ours.issuperset(event.id for event in past.events)
        return past.by if is_ours else view.on_duty
