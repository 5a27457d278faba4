"""What the board asks about the log, once, each answered with one entry: open jobs of their own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from pottyboard.core.engine.history import History
from pottyboard.core.engine.rule_context import RuleContext
from pottyboard.core.estimate.learning import estimate_of, holds_by_day
from pottyboard.core.log.answers import written_twice
from pottyboard.core.model import figures, priors
from pottyboard.core.model.describe import NAME_LETTERS
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import (
    Minutes,
    clock_words,
    count_words,
    date_words,
    instant_of,
    local,
)
from pottyboard.core.model.printable import printable
from pottyboard.core.view.situation_views import Job

_DAYS: Final = 4
"""Days back in which a question that still stands can lie."""


def open_questions(history: History, now: Minutes) -> Iterator[Job]:
    """Yield what is asked at ``now``; a question that nobody answers is dropped after two days."""
    since = now - figures.ASKED_FOR
    yield from _noticed(history, since)
    yield from _twice(history, since)
    yield from _silence(history, since)


def now_known(history: History, context: RuleContext) -> Iterator[Job]:
    """Announce once that the log knows the dog and calls its breaks, until the household has said
    that it may, or puts it off; who says nothing in two days has let it."""
    if not context.log_knows or context.facts.measures.chose_calls:
        return
    since = _known_since(history)
    if since is None or context.now - since > figures.ASKED_FOR:
        return
    name = f"{history.settings.dog.name} is known now, its own log calls the breaks"
    words = (
        f"{name}: no longer each meal, drink or play. Keep that, or the fixed reasons for longer?"
    )
    measures = ("own-log", "fixed-reasons")
    yield Job("known", words, instant_of(since), name=name, measures=measures)


def _known_since(history: History) -> Minutes | None:
    """Return from when the log has known the dog, None if it does not."""
    dog, before = history.settings.dog, 0
    for day in history.days:
        knows = estimate_of(dog, day.evidence_so_far).knows_dog
        if knows and day.plan.number >= priors.KNOWN_FROM_DAY:
            missing = int(priors.HOLDS_TO_KNOW) - before
            ends = sorted(hold.ended for hold in holds_by_day(day.holds))
            return ends[missing - 1] if 0 < missing <= len(ends) else day.plan.start
        before = day.evidence_so_far.holds
    return None


def _when(history: History, at: Minutes) -> str:
    """Return the clock time of an instant, with its date if that is not today's."""
    zone = history.settings.zone
    day, clock = local(at, zone).date(), clock_words(at, zone)
    return clock if day == history.today.plan.date else f"{date_words(day, day)} {clock}"


def _noticed(history: History, since: Minutes) -> Iterator[Job]:
    """Ask of an accident whether it was seen or found, where the interval waits for that."""
    for day in history.days[-_DAYS:]:
        for accident in day.accidents:
            event = accident.event
            if accident.judgement != "asks" or event.t < since:
                continue
            what = f"{event.row.words}, {_when(history, event.t)}"
            words = f"{what}: seen happening, or found later? The interval waits for that"
            steps = ("If it was found: say in the entry too when the floor was last seen dry.",)
            answers = ("seen", "found")
            yield Job("seen-or-found", words, event.at, event.id, steps, what, answers)


def _twice(history: History, since: Minutes) -> Iterator[Job]:
    """Ask of two people's entries of one sort minutes apart whether they are one."""
    events = [e for day in history.days[-_DAYS:] for e in day.events if e.t >= since]
    settled = {event.about for event in events if event.kind == "two"}
    for first, second in written_twice(events):
        if second.id in settled:
            continue
        what = f"{second.row.words}, {_when(history, first.t)}"
        later = f"{_when(history, second.t)} by {_who(second)}"
        words = f"{what} by {_who(first)} and {later}: the same one?"
        yield Job("same-one", words, second.at, second.id, (), what, ("same", "two"))


def _who(event: Event) -> str:
    return printable(event.by, NAME_LETTERS)


def _silence(history: History, since: Minutes) -> Iterator[Job]:
    """Ask once what happened in the hours without an entry, when somebody is back at the keys."""
    last = history.events[-1].t if history.events else 0.0
    known = history.days[-_DAYS:]
    silences = [one for day in known for one in day.silences if since <= one.end <= last]
    if not silences:
        return
    newest = max(silences, key=lambda one: one.end)  # a day names those without a pee last
    start, end = _when(history, newest.start), clock_words(newest.end, history.settings.zone)
    of_pee = newest.of == "pee"
    what = "no pee" if of_pee else "nothing happened"
    none = "No pee is logged" if of_pee else "Nothing is logged"
    if len(silences) > 1:
        none += f", nor in {count_words(len(silences) - 1, 'stretch', 'stretches')} before"
    words = f"{what} from {start} to {end}? ({none}; if there was something, log it)"
    yield Job("silence", words, instant_of(newest.end), "", (), f"{start} to {end}", ("quiet",))
