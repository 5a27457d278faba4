"""A hard day as a row of a table: the rule it checks, its log in one line, what the board says.

The log is written as ``"d1 06:31 up; 06:36 pee; 08:30 pee-inside small upright"``: ``dN`` turns to
a day of the calendar (1 is the arrival), ``dN-M`` writes what follows on each of those days, the
word CLEAR stands for a whole day without an accident, ``06:30-14:30/2:00 pee`` writes an entry
every 2 h. After the kind come its details in any order: ``seen``, ``found`` or ``unsaid`` (an
accident is seen unless it says otherwise), the words of a closed choice (``small``, ``fabric``,
``nap``, ``door``, ``straining`` …), ``upright``, ``alone``, ``unsure``, and ``name=value`` for the
rest (``dry=07:50``, ``cause=marking``, ``by=Ann``). A word else is the place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Any, Final

from msgspec import Struct

from pottyboard.core.model.events import CHOICES, KINDS, EventError
from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.view.situation import Situation
from tests.core.diary import CLEAR_DAY, Diary, diary


class Board(Struct, frozen=True):
    """What the board must and must not say at an instant; what is empty or None is not asked.

    ``at`` is ``"d1 08:31"``. ``due`` is the next break's time, ``due_by`` and ``due_from`` its
    latest and earliest. ``reasons`` are among those that it serves, ``not_reasons`` are not;
    ``no_call`` stands nowhere, now or later. ``since_pee``, the intervals and their ``top`` are
    minutes, ``verdicts`` such as ``{1: "clear"}``, ``outings`` and ``holds`` counts by day,
    ``hold_minutes`` the holds themselves, ``longest`` the minutes that none of a day exceeds.
    ``warns`` and ``warns_not`` are ``"code level"`` or ``"code"``; ``cause`` is that of the newest
    accident. ``words`` stand somewhere among all the words of the situation, ``never`` do not.
    """

    at: str
    due: str = ""
    due_by: str = ""
    due_from: str = ""
    state: tuple[str, ...] = ()
    not_state: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    not_reasons: tuple[str, ...] = ()
    no_call: tuple[str, ...] = ()
    since_pee: int | None = None
    interval: int | None = None
    interval_least: int | None = None
    top: int | None = None
    streak: int | None = None
    verdicts: dict[int, str] = {}
    outings: dict[int, int] = {}
    holds: dict[int, int] = {}
    hold_minutes: dict[int, tuple[int, ...]] = {}
    longest: dict[int, int] = {}
    jobs: tuple[str, ...] = ()
    no_jobs: tuple[str, ...] = ()
    warns: tuple[str, ...] = ()
    warns_not: tuple[str, ...] = ()
    cause: str = ""
    not_cause: tuple[str, ...] = ()
    asleep: str | None = None
    words: tuple[str, ...] = ()
    never: tuple[str, ...] = ()


Check = Callable[[Diary], Iterator[str]]
"""Something that is asked of the whole diary; it yields what is wrong."""


class Row(Struct, frozen=True):
    """One hard day; ``red`` where the code does not do what ``rule`` says yet.

    ``rule`` names the paragraph of the rules of the trade and says it in a few words; ``home`` are
    the arguments of :func:`tests.core.diary.diary`.
    """

    id: str
    rule: str
    log: str
    says: tuple[Board | Check, ...]
    home: dict[str, Any]
    learn: bool
    red: bool

    def page(self) -> Diary:
        """Return the diary with this log; AssertionError for a name that is still to come."""
        try:
            opened = diary(**self.home)
        except TypeError as unknown:
            raise AssertionError(f"a setting still to come: {unknown}") from unknown
        page = opened if not self.learn else Diary(opened.settings, date=opened.date, learn=True)
        return written(page, self.log)

    def faults(self) -> list[str]:
        """Return what the board says otherwise, each in a line."""
        page = self.page()
        found: list[str] = []
        for says in self.says:
            if isinstance(says, Board):
                found += asked(page, says)
            else:
                found += says(page)
        return found


def row(
    id: str, rule: str, log: str, *says: Board | Check,
    learn: bool = False, red: bool = False, **home: Any,
) -> Row:  # fmt: skip
    """Return a row of the table; what is named else is handed to :func:`diary`."""
    return Row(id, rule, log, says, home, learn, red)


# --- The log --------------------------------------------------------------------------------------

_FOUND: Final = {"seen": False, "found": True, "unsaid": None}
_FLAGS: Final = ("upright", "alone", "unsure")


def written(page: Diary, log: str) -> Diary:
    """Return the diary after a log in one line."""
    days, lines = [1], list[str]()
    for part in (*log.split(";"), "d0"):
        words = part.split()
        if words and words[0][0] == "d" and words[0][1].isdigit():
            for day in days if lines else ():
                page = page.on(day)
                for line in lines:
                    page = _entry(page, line)
            first, _, last = words.pop(0)[1:].partition("-")
            days, lines = [*range(int(first), int(last or first) + 1)], []
        if words:
            lines += CLEAR_DAY if words == ["CLEAR"] else [" ".join(words)]
    return page


def _entry(page: Diary, line: str) -> Diary:
    clock, kind, *rest = line.split()
    details: dict[str, Any] = {}
    for word in rest:
        name, is_pair, value = word.partition("=")
        if is_pair:
            number = name in ("ml", "minutes")
            details[name] = float(value) if number else value
        elif word in _FOUND:
            details["found"] = _FOUND[word]
        elif word in _FLAGS:
            details[word] = True
        else:
            choices = (n for n, allowed in CHOICES.items() if word in allowed and n != "cause")
            details[next(choices, _open_choice(kind))] = word
    assert kind in KINDS, f"the kind “{kind}” is still to come"
    try:
        for at in _clocks(clock):
            page = page.at(at, kind, **details)
    except EventError as unknown:
        raise AssertionError(f"still to come: {unknown}") from unknown
    return page


def _open_choice(kind: str) -> str:
    return "finding" if kind == "health" else "place"


def _clocks(text: str) -> Iterator[str]:
    span, _, step = text.partition("/")
    first, _, last = span.partition("-")
    at, end = _minute(first), _minute(last or first)
    while at <= end:
        yield f"{at // 60:02}:{at % 60:02}"
        at += _minute(step) if step else 1


def _minute(clock: str) -> int:
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)


# --- What the board says --------------------------------------------------------------------------


def at(page: Diary, instant: str) -> Situation:
    """Return the situation at an instant such as ``"d2 08:30"``."""
    day, clock = instant.split()
    return page.on(int(day[1:])).read(clock)


def everything(value: Any) -> Iterator[str]:
    """Yield every word that a view may show; not what the household wrote or set up."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Struct) and type(value).__name__ != "Settings":
        for name in value.__struct_fields__:
            yield from everything(getattr(value, name))
    elif isinstance(value, (tuple, list)):
        for one in value:
            yield from everything(one)


def asked(page: Diary, says: Board) -> list[str]:
    """Return what the board says otherwise at an instant, each in a line."""
    return [f"{says.at}: {fault}" for fault in _faults(page, says)]


def _faults(page: Diary, says: Board) -> Iterator[str]:
    found = at(page, says.at)
    yield from _next_break(page.on(int(says.at.split()[0][1:])), says, found)
    yield from _interval(says, found)
    yield from _days(says, found)
    jobs = [job.code for job in found.open_jobs]
    yield from _among("open jobs", jobs, says.jobs, says.no_jobs)
    warned = [w for one in found.warnings for w in (one.code, f"{one.code} {one.level}")]
    yield from _among("warnings", warned, says.warns, says.warns_not)
    cause = found.accidents[0].cause if found.accidents else "none"
    if (says.cause and cause != says.cause) or cause in says.not_cause:
        yield f"the cause is {cause}"
    if says.words or says.never:
        text = "\n".join(everything(found)).casefold()
        for words in says.words:
            if words.casefold() not in text:
                yield f"it does not say “{words}”"
        for words in says.never:
            if words.casefold() in text:
                yield f"it says “{words}”"


def _next_break(page: Diary, says: Board, found: Situation) -> Iterator[str]:
    due = found.next_break
    clock, reasons = page.clock(due.at), [reason.code for reason in due.reasons]
    spoken = f"due {clock} for {', '.join(reasons)}, {due.state}"
    exact = says.due and due.at.replace(second=0) != _instant(page, says.due)
    early = says.due_from and due.at < _instant(page, says.due_from)
    late = says.due_by and due.at > _instant(page, says.due_by)
    if exact or early or late:
        yield spoken
    if (says.state and due.state not in says.state) or due.state in says.not_state:
        yield spoken
    yield from _among(spoken, reasons, says.reasons, says.not_reasons)
    calls = [*reasons, *(reason.code for reason in due.later)]
    yield from _among("calls, now and later", calls, (), says.no_call)
    if says.asleep is not None and found.asleep != says.asleep:
        yield f"asleep is “{found.asleep}”"
    if says.since_pee is not None and found.since["pee"] != says.since_pee:
        yield f"{found.since['pee']} min since pee"


def _instant(page: Diary, text: str) -> Any:
    *day, clock = text.split()
    return (page.on(int(day[0][1:])) if day else page).instant(clock)


def _interval(says: Board, found: Situation) -> Iterator[str]:
    interval = found.interval.minutes
    least = interval if says.interval_least is None else says.interval_least
    if says.interval not in (None, interval) or interval < least:
        yield f"the interval is {interval} min"
    if says.top not in (None, found.interval.top):
        yield f"the interval may grow to {found.interval.top} min"


def _days(says: Board, found: Situation) -> Iterator[str]:
    days = {day.number: day for day in found.days}
    for number, verdict in says.verdicts.items():
        if days[number].verdict != verdict:
            yield f"day {number} is {days[number].verdict}: {days[number].words}"
    for number, outings in says.outings.items():
        if days[number].outings != outings:
            yield f"day {number} has {days[number].outings} outings"
    for number, holds in says.holds.items():
        if len(days[number].holds) != holds:
            yield f"day {number} has the holds {days[number].holds}"
    for number, minutes in says.hold_minutes.items():
        if days[number].holds != minutes:
            yield f"day {number} has the holds {days[number].holds}"
    for number, longest in says.longest.items():
        if max(days[number].holds, default=0) > longest:
            yield f"day {number} has the holds {days[number].holds}"
    if says.streak not in (None, found.streak_days):
        yield f"the streak is {found.streak_days}"


def _among(
    what: str, found: Sequence[str], wanted: tuple[str, ...], unwanted: tuple[str, ...]
) -> Iterator[str]:
    lacks, has = set(wanted) - set(found), set(unwanted) & set(found)
    if lacks or has:
        yield f"{what}: {', '.join(found) or 'none'}"


# --- Questions to the whole diary -----------------------------------------------------------------


def same_interval(before: str, after: str) -> Check:
    """Return the check that the interval in force is the same at two instants."""

    def check(page: Diary) -> Iterator[str]:
        was, now = (at(page, instant).interval.minutes for instant in (before, after))
        if was != now:
            yield f"the interval goes from {was} to {now} min between {before} and {after}"

    return check


def chance_never_falls(first: str, last: str, step: int = 5) -> Check:
    """Return the check that the shown chance never falls between two clock times of a day."""

    def check(page: Diary) -> Iterator[str]:
        day, start = first.split()
        before, asked = 0.0, 0
        for minute in range(_minute(start), _minute(last.split()[1]) + 1, step):
            instant = f"{day} {minute // 60:02}:{minute % 60:02}"
            risk = at(page, instant).risk
            if risk is None:
                continue
            asked += 1
            if risk.now < before - 1e-9:
                yield f"{instant}: the chance falls from {before:.4f} to {risk.now:.4f}"
                return
            before = risk.now
        if asked < 10:
            yield f"only {asked} chances shown"

    return check


def plan_apart(instant: str, least: int = 15) -> Check:
    """Return the check that the plan shows no two breaks closer than ``least`` minutes.

    A sign, coming home, leaving and last thing are excepted.
    """
    excepted = ("last thing", "came home", "leaving", "left", "sign")

    def check(page: Diary) -> Iterator[str]:
        planned = [
            slot
            for slot in at(page, instant).timeline
            if slot.kind in ("break", "night") and slot.status in ("due", "planned")
        ]
        for one, other in pairwise(planned):
            apart = minutes_of(other.at) - minutes_of(one.at)
            free = any(word in slot.words for slot in (one, other) for word in excepted)
            if apart < least - 1e-6 and not free:
                yield f"{instant}: {apart:.0f} min between “{one.words}” and “{other.words}”"

    return check


def paired_within(most: int, instant: str) -> Check:
    """Return the check that no entry stands beside a plan more than ``most`` minutes away."""

    def check(page: Diary) -> Iterator[str]:
        for slot in at(page, instant).timeline:
            if slot.event is None or slot.planned is None:
                continue
            apart = abs(minutes_of(slot.at) - minutes_of(slot.planned))
            if apart > most:
                yield f"{instant}: “{slot.words}” is {apart:.0f} min from {slot.event.kind}"

    return check
