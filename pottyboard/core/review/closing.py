"""The close of a day: the day against its plan, what it means for tomorrow, and one suggestion."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from itertools import pairwise
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.away.alone import alone_since
from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.engine.days import Day
from pottyboard.core.engine.history import History
from pottyboard.core.engine.interval import is_early, near
from pottyboard.core.engine.reasons import RULE_BY_CODE
from pottyboard.core.health.health_views import GRAVE
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import (
    Minutes,
    clock_words,
    count_words,
    instant_of,
    minutes_of,
    span_words,
)
from pottyboard.core.model.settings import Settings
from pottyboard.core.patterns.habits import Habit as Habit
from pottyboard.core.patterns.habits import habits
from pottyboard.core.review.tomorrow import Tomorrow, tomorrow
from pottyboard.core.view.situation import situation
from pottyboard.core.view.situation_views import Situation, Slot

Outcome = Literal["on time", "late", "missed"]
Working = Literal["yes", "so far", "mixed", "no", "unknown"]
"""Whether it works, as far as one day can tell; *so far* while the day is not over."""

_USUAL_DAYS: Final = int(figures.PROGRAMME_DAYS)
"""The earlier days that today's times are held against."""
_WEEK: Final = 7
_LATE_TO_SAY: Final = 2
_LATE_SHARE: Final = 0.2
"""From so many late breaks on, and such a share of all, they are worth a word (our own choice)."""
_WANDERS: Final = 45
"""A routine time that spreads this many minutes is worth a word (our own choice)."""
_TREND: Final = 3
"""Days on either side when accidents are held against those before (our own choice)."""


class Kept(Struct, frozen=True):
    """One thing that was planned, and what became of it: ``late`` in minutes, 0 if on time.

    ``at`` is when it happened, None where it has not: then it was *missed*, or it is due still.
    """

    planned: datetime
    at: datetime | None
    kind: Literal["break", "visit", "meal"]
    words: str
    outcome: Outcome
    late: int = 0


class Suggestion(Struct, frozen=True):
    """The one thing to do differently, in a sentence; ``code`` says where it comes from."""

    code: Literal["warning", "offer", "unlogged", "late", "vet", "evidence", "routine", "pad"]
    words: str


class Closing(Struct, frozen=True):
    """One day at its close, or so far.

    ``working`` and ``lead`` say whether it works, ``news`` what changes tomorrow. ``kept`` are the
    planned breaks, visits and meals in order; ``on_time`` and ``breaks`` count those that went out,
    ``before`` the same over the last seven days. ``holds`` are the awake holds in minutes in order,
    ``near`` how many of them came near the interval or exceeded it. ``indoors`` are the accidents,
    ``accounts`` why they likely happened.
    """

    now: datetime
    settings: Settings
    day: DaySummary
    streak: int
    working: Working
    lead: str
    news: str
    kept: tuple[Kept, ...]
    on_time: int
    breaks: int
    before: tuple[int, int]
    holds: tuple[int, ...]
    near: int
    indoors: tuple[Event, ...]
    accounts: tuple[Account, ...]
    habits: tuple[Habit, ...]
    tomorrow: Tomorrow
    suggestion: Suggestion | None

    @property
    def date(self) -> date:
        """The date of the day."""
        return self.day.date


def closing(settings: Settings, events: Iterable[Event], now: datetime) -> Closing:
    """Return the day that ``now`` (aware) belongs to, held against its plan.

    Entries later than ``now`` are not seen. Raises ``TimeError`` if ``now`` has no time zone.
    """
    log = tuple(events)
    view, ahead = situation(settings, log, now), tomorrow(settings, log, now)
    *earlier, today = History.of(settings, log, minutes_of(now)).days
    kept = tuple(sorted(_kept(view, today), key=lambda row: row.planned))
    outside = [row for row in kept if row.kind != "meal"]
    indoors = tuple(accident.event for accident in today.accidents)
    accounts = tuple(a for a in reversed(view.accidents) if a.event in indoors)
    kept_to = tuple(habits(settings, today, earlier[-_USUAL_DAYS:], minutes_of(now)))
    working, lead = _lead(view, today, earlier, ahead)
    return Closing(
        now=now,
        settings=settings,
        day=today.summary,
        streak=today.streak,
        working=working,
        lead=lead,
        news=_news(ahead, settings),
        kept=kept,
        on_time=sum(row.outcome == "on time" for row in outside),
        breaks=len(outside),
        before=_punctuality(earlier[-_WEEK:]),
        holds=tuple(round(hold) for hold in today.awake_holds),
        near=sum(hold >= near(today.interval) for hold in today.awake_holds),
        indoors=indoors,
        accounts=accounts,
        habits=kept_to,
        tomorrow=ahead,
        suggestion=next(suggestions(view, today, outside, accounts, kept_to), None),
    )


# --- Against the plan -----------------------------------------------------------------------------


def _kept(view: Situation, today: Day) -> Iterator[Kept]:
    """Yield every break, visit and meal that was planned by now, and what became of it."""
    for slot in view.timeline:
        if slot.planned is None or slot.kind not in ("break", "visit", "meal"):
            continue
        kind = slot.kind
        if kind == "break" and alone_since(today.events, slot.planned) is not None:
            continue  # a lone dog waits for the visit, or for the return
        answer = _answer(today, slot) if kind == "break" else None
        if slot.status == "missed" and answer is not None:
            late = _shown_late(answer, slot.planned)
            yield Kept(slot.planned, instant_of(answer), kind, slot.words, "late", late)
        elif slot.status == "missed":
            yield Kept(slot.planned, None, kind, slot.words, "missed")
        elif slot.event is not None:
            is_late = slot.status == "late"
            late = _shown_late(slot.event.t, slot.planned) if is_late else 0
            outcome: Outcome = "late" if is_late else "on time"
            yield Kept(slot.planned, slot.at, kind, slot.words, outcome, late)
    for accident in today.accidents:
        if accident.household:
            missed = accident.circumstances.due
            words = RULE_BY_CODE[missed.code].title
            yield Kept(instant_of(missed.at), None, "break", words, "missed")
    due = view.next_break
    if due.state == "late" and alone_since(today.events, due.at) is None:
        if minutes_of(view.now) >= today.plan.bed:
            yield Kept(due.at, None, "break", RULE_BY_CODE["bedtime"].title, "missed")
        else:
            yield Kept(due.at, None, "break", due.reasons[0].words, "late", -due.minutes)


def _shown_late(at: Minutes, planned: datetime) -> int:
    """Return the minutes between two clock times as they are shown, without their seconds."""
    return math.floor(at) - math.floor(minutes_of(planned))


def _answer(today: Day, slot: Slot) -> Minutes | None:
    """Return the first outing after a break, however late, None if there was none."""
    planned = minutes_of(slot.at)
    return next((outing.at for outing in today.outings if outing.at >= planned), None)


def _punctuality(days: Sequence[Day]) -> tuple[int, int]:
    """Return how many outings of ``days`` were on time, and how many there were.

    Those that a lone dog had to wait for are left out.
    """
    outings = [
        outing
        for day in days
        for outing in day.outings
        if alone_since(day.events, instant_of(outing.due.at)) is None
    ]
    return sum(outing.at <= outing.due.at + figures.LATE for outing in outings), len(outings)


# --- In a sentence --------------------------------------------------------------------------------


def _lead(
    view: Situation, today: Day, earlier: Sequence[Day], ahead: Tomorrow
) -> tuple[Working, str]:
    """Return whether it works, and the sentence that says so."""
    own = [accident for accident in today.accidents if accident.is_own]
    number = len(own)
    if number:
        told = count_words(number, "accident")
        late = sum(accident.household for accident in own)
        if late == number:
            return "mixed", f"Mixed: {told}, and the break was already late."
        lately = number + sum(day.summary.accidents for day in earlier[1 - _TREND :])
        before = sum(day.summary.accidents for day in earlier[1 - 2 * _TREND : 1 - _TREND])
        if len(earlier) >= 2 * _TREND - 1 and lately < before:
            return "mixed", (
                f"Fewer: {count_words(lately, 'accident')} in {_TREND} days, "
                f"{before} in the {_TREND} before."
            )
        return "no", f"Not yet: {told} today."
    if ahead.today.verdict == "unknown":
        why, _, rest = ahead.today.words.partition(":")
        cannot = "Too early to tell" if today.plan.number == 1 else "Cannot tell"
        return "unknown", f"{cannot}: {why if rest else ahead.today.words}."
    if not view.is_evening or view.next_break.state == "late":
        streak = count_words(today.streak, "clear day")
        after = f", after {streak}" if today.streak else ""
        return "so far", f"So far no accident today{after}."
    if ahead.streak < 2:
        return "yes", "A clear day."
    return "yes", f"{ahead.streak} clear days in a row."


def _news(ahead: Tomorrow, settings: Settings) -> str:
    """Return what changes tomorrow."""
    more = ahead.interval - ahead.before
    words = f"Tomorrow: still {span_words(ahead.interval)} between breaks"
    if more:
        than = "more" if more > 0 else "less"
        words = f"Tomorrow: {span_words(ahead.interval)} between breaks, {span_words(more)} {than}"
    sooner = sum(
        row.change != "gone" and RULE_BY_CODE["model"].title in row.slot.words.split(", ")[:1]
        for row in ahead.rows
    )
    if sooner:
        words += f", {sooner} of them earlier because of this dog's own log"
    fresh = [row.slot for row in ahead.rows if row.change == "new"]
    away = [settings.clock(slot.at) for slot in fresh if slot.kind == "leaving"]
    if away:
        words += f"; alone from {' and '.join(away)}"
    leaving = {row.change for row in ahead.rows if row.slot.kind == "leaving"}
    if leaving == {"gone"}:
        words += "; somebody is home all day"
    visits = [settings.clock(slot.at) for slot in fresh if slot.kind == "visit"]
    if visits:
        words += f"; a visit at {' and '.join(visits)}"
    return f"{words}."


# --- One suggestion -------------------------------------------------------------------------------


def suggestions(
    view: Situation,
    today: Day,
    outside: Sequence[Kept],
    accounts: Sequence[Account],
    habits: Sequence[Habit],
) -> Iterator[Suggestion]:
    """Yield what could be done differently, the most useful first."""
    for warning in view.warnings:
        if warning.level in GRAVE and warning.noted is None:
            yield Suggestion("warning", warning.words)
    for account in reversed(accounts):
        if account.offer is not None and not account.offer.taken:
            yield Suggestion("offer", account.offer.words)
    slow = [row for row in outside if row.outcome != "on time"]
    missed = sum(row.outcome == "missed" for row in slow)
    if missed or len(slow) >= max(_LATE_TO_SAY, _LATE_SHARE * len(outside)):
        longest = max((row.late for row in slow), default=0)
        by = f", by up to {span_words(longest)}" if longest else ""
        told = f"{len(slow) - missed} of {len(outside)} breaks came late{by}"
        if missed:
            told += f", and {missed} not at all" if len(slow) > missed else ""
            told = told if len(slow) > missed else f"{count_words(missed, 'break')} never came"
        yield Suggestion("late", f"{told}: go out while the board still says soon.")
    yield from _unlogged(view, today)
    asks_vet = any(job.code == "vet" for job in view.open_jobs)
    if asks_vet and view.day > 1 and view.settings.dog.vet == "not yet":
        yield Suggestion("vet", "Book the vet check: it is still open.")
    yield from _evidence(view, today)
    for habit in habits:
        if habit.spread is not None and habit.days > _TREND and habit.spread >= _WANDERS:
            names = {"got up": "getting up", "last thing": "the last outing"}
            name = names.get(habit.name, f"the {_clock(habit.planned)} meal")
            varied = span_words(habit.spread)
            moved = f"Try to keep {name} at the same time: it moved by about {varied}."
            yield Suggestion("routine", moved)
    if view.pad is not None and not view.is_evening:  # its plan is for today
        yield Suggestion("pad", view.pad.words)


def _unlogged(view: Situation, today: Day) -> Iterator[Suggestion]:
    """Yield the longest time by day without an entry, if more than one break fell into it."""
    plan, zone = today.plan, view.settings.zone
    end = min(minutes_of(view.now), plan.bed)
    marks = [(plan.start, ""), *((event.t, event.kind) for event in today.events), (end, "")]
    gaps = [(b[0] - a[0], a[0], b[0]) for a, b in pairwise(marks) if a[1] != "left"]
    longest, since, until = max(gaps)
    if longest > 2 * today.interval + figures.LATE:
        yield Suggestion(
            "unlogged",
            f"Nothing is logged from {clock_words(since, zone)} to {clock_words(until, zone)}: "
            "log every outing, also where nothing came.",
        )


def _evidence(view: Situation, today: Day) -> Iterator[Suggestion]:
    """Yield what is missing to widen, where outings that came early are the reason."""
    interval = view.interval
    early = sum(is_early(outing.due.at, outing.at) for outing in today.outings)
    if interval.at_top or today.accidents or 2 * early <= len(today.outings):
        return
    if any("wait" in need for need in interval.missing):
        least = span_words(near(interval.minutes))
        yield Suggestion(
            "evidence",
            "You often went out early. That is fine with a signal; otherwise wait for the break: "
            f"only waits of at least {least} let breaks move further apart.",
        )


def _clock(minute: float) -> str:
    return f"{int(minute) // 60:02}:{int(minute) % 60:02}"
