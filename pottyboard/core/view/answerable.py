"""What an entry made now can answer: spots to clean, warnings, accidents, visits agreed on."""

from __future__ import annotations

from collections.abc import Iterable

from pottyboard.core.log.agreed import agreed_in
from pottyboard.core.model.describe import day_clock, describe
from pottyboard.core.model.events import ANSWERS, Event
from pottyboard.core.model.localtime import instant_of
from pottyboard.core.model.permitted import Answerable
from pottyboard.core.view.situation_views import Situation


def answerable_in(situation: Situation, events: Iterable[Event]) -> Answerable:
    """Return what an entry can answer at ``situation.now``; ``events`` is the whole log."""
    settings, log = situation.settings, tuple(events)
    return Answerable(
        to_clean={job.about: job.words for job in situation.open_jobs if job.code == "clean"},
        warnings={warning.code: warning.words for warning in situation.warnings},
        accidents={e.id: describe(e, settings) for e in log if e.row.is_accident},
        questions={
            kind: {job.about: job.words for job in situation.open_jobs if kind in job.answers}
            for kind in ANSWERS
        },
        agreements={
            visit.root: f"{visit.helper} {day_clock(instant_of(visit.at), settings)}"
            for visit in agreed_in(log).visits
        },
    )
