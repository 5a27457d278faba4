"""What one screen says must not contradict itself: the rules, asked of a situation and its words.

Source: our own rules; each is a sentence that a household would otherwise read as two truths.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Final

from pottyboard.core.engine.reasons import CLOCKS_OF_THE_DAY, RULE_BY_CODE
from pottyboard.core.model.events import ANSWERS, KINDS, Event
from pottyboard.core.model.localtime import instant_of, span_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.closing import Closing, closing
from pottyboard.core.situation import Situation, situation
from pottyboard.core.view.hold_report import hold_report
from pottyboard.core.view.situation_views import ALL_CALLS, HoldReport

CHANCE: Final = re.compile(r"(\d+(?:\.\d+)?)(?:%| in 100\b)")
CLOCK: Final = re.compile(r"(?P<day>(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?(?P<clock>\d\d:\d\d)\b")
OF_AN_ENTRY: Final = re.compile(
    r"(?:last pee|pee at|pee since|meal \(|meal at|drink at|play at|nothing at|home at|got up at|"
    r"logged since|asleep since|indoors,) \(?$"
)
"""What stands before the clock time of an entry; other times are those of the plan."""
APART: Final = timedelta(minutes=15)
HOUR: Final = timedelta(hours=1)
PAIRED: Final = timedelta(minutes=90)
HALF_A_DAY: Final = timedelta(hours=12)
CALM: Final = ("rest", "soon", "watching", "asleep", "alone")
OWN_TIME: Final = (
    *(RULE_BY_CODE[code].title for code in ("sign", "back", "leaving", "bedtime")),
    "visit",
    "nobody home",
)
"""How a break reads that keeps its own time beside others; a lone dog has no other choice."""


def incoherences(found: Situation) -> Iterator[tuple[str, str]]:
    """Yield what contradicts itself at ``found.now``, as (the rule, the words)."""
    yield from _one_number(found)
    yield from _over_the_limit(found)
    yield from _already(found)
    yield from _apart(found)
    yield from _other_days(found)
    yield from _kept_near(found)
    yield from _paired(found)
    yield from _day_numbers(found)
    yield from _silence(found)
    yield from _called_early(found)
    yield from _subjects(found)
    yield from _one_break(found)
    yield from _state_and_minutes(found)
    yield from _watching(found)
    yield from _asleep_by_day(found)
    yield from _one_pee(found)
    yield from _one_interval(found)
    yield from _old_bedtime(found)
    yield from _one_streak(found)


def moved(before: Situation, after: Situation) -> Iterator[tuple[str, str]]:
    """Yield a break that moves away though nobody logged anything between two looks.

    Not where it falls due or is given up meanwhile, nor from one day to the next; a dog that naps
    is called the later the longer it naps.
    """
    was, now = before.next_break, after.next_break
    clock = after.settings.clock
    is_new = before.recent != after.recent or before.date != after.date
    if (
        after.asleep == "nap"
        or is_new
        or was.at <= after.now
        or now.at - was.at <= timedelta(minutes=5)
    ):
        return
    first, then = was.reasons[0], now.reasons[0]
    yield "moved", f"{clock(was.at)} ({first.words}) became {clock(now.at)} ({then.words})"


SERVES_NO_BREAK: Final = tuple(
    row.code
    for row in KINDS.values()
    if row.group not in ("outing", "accident", "visits")
    and row.code not in ("up", "settled", "left", "health", "interval", "routine", "round")
    and row.code not in ANSWERS
)
"""Kinds of entry that serve no break and change no rule: nobody went out, the dog neither got up
nor lay down, nobody left, it is not ill, and the household neither asks for anything else nor says
of an earlier day what makes it clear."""


def put_off(late: Situation, after: Situation) -> Iterator[tuple[str, str]]:
    """Yield a break that was due and is due later once an entry that serves none is added.

    With a new day its morning's break takes the place of the one that the night had; a visit is no
    longer waited for once somebody is back; what is told late of play or sleep may teach an
    estimate otherwise by a few minutes.
    """
    was, now = late.next_break, after.next_break
    if was.minutes > 0 or late.date != after.date or was.reasons[0].code in ("visit", "return"):
        return
    learned = timedelta(minutes=5 if was.reasons[0].code == "model" else 0)
    if now.at > was.at + learned:
        clock, first, then = after.settings.clock, was.reasons[0], now.reasons[0]
        yield "put off", f"{clock(was.at)} ({first.words}) became {clock(now.at)} ({then.words})"


OWN_LOG: Final = re.compile(r"(\d+) of them earlier because of this dog's own log")


def called_by(found: Situation, evening: Closing, page: HoldReport) -> Iterator[tuple[str, str]]:
    """Yield where the evening and the page on the hold disagree on who calls the breaks.

    So many breaks come by the dog's own log as tomorrow's plan shows, none before the log knows it;
    where the fixed reasons are called for as well, the line that says so names the log too. A call
    that is said to be dropped stands in no break to come.
    """
    by_log, name = RULE_BY_CODE["model"].title, "who calls"
    plan = [row.slot for row in evening.tomorrow.rows if row.change != "gone"]
    planned = sum(slot.words.split(", ")[0] == by_log for slot in plan)
    said = sum(int(number) for number in OWN_LOG.findall(evening.news))
    if said != planned:
        yield name, f"{evening.news} {planned} by its own log are planned"
    if page.estimate != found.hold:
        yield name, f"{page.estimate.words}, and {found.hold.words}"
    if said and not page.estimate.knows:
        yield name, f"{evening.news} {page.estimate.words}"
    for call in found.calls:
        if said and call.code == ALL_CALLS and "its own log" not in call.words.casefold():
            yield name, f"{evening.news} {call.words}"
        if call.called or call.code not in RULE_BY_CODE:
            continue
        title = RULE_BY_CODE[call.code].title
        coming = [slot for slot in found.timeline if slot.status in ("due", "planned")]
        for slot in (*coming, *plan):
            if slot.kind == "break" and title in slot.words.split(", "):
                yield name, f"{call.words} {found.settings.clock(slot.at)}: {slot.words}"


def who_calls(
    settings: Settings, entries: Sequence[Event], now: datetime
) -> Iterator[tuple[str, str]]:
    """Yield where the evening and the page on the hold disagree at ``now`` (see
    :func:`called_by`)."""
    known = [e for e in entries if e.at <= now and (e.logged is None or e.logged <= now)]
    yield from called_by(
        situation(settings, known, now),
        closing(settings, known, now),
        hold_report(settings, known, now),
    )


def _why(found: Situation) -> list[str]:
    return [reason.words for reason in (*found.next_break.reasons, *found.next_break.later)]


def _one_number(found: Situation) -> Iterator[tuple[str, str]]:
    """The chance said is the one of the estimate; a limit said to be reached is reached then."""
    risk, due = found.risk, found.next_break
    said = found.confidence.partition(";")[0]
    chances = {float(one) for one in CHANCE.findall(said)}
    if risk is None:
        if chances:
            yield "one number", f"a chance that nobody estimated: {said}"
        return
    allowed = {float(max(1, round(100 * risk.at_due))), round(100 * risk.limit, 2)}
    if chances - allowed:
        yield "one number", f"{said}, and the estimate says {risk.at_due:.3f}"
    calls = [one for one in due.reasons if one.code == "model"]
    if not calls or due.minutes <= 0 or risk.at_due <= risk.limit + 0.005:
        return
    over = getattr(risk, "over_from", None)
    since = "never" if over is None else found.settings.clock(over)
    if since not in said or any(hit["clock"] != since for hit in CLOCK.finditer(calls[0].words)):
        yield "one number", f"{calls[0].words}; {said}"


def _over_the_limit(found: Situation) -> Iterator[tuple[str, str]]:
    """Over the limit a break is due, or the words say what holds it back and since when."""
    risk, due = found.risk, found.next_break
    if risk is None or due.minutes <= 0 or risk.at_due <= risk.limit + 0.0005:
        return
    over = getattr(risk, "over_from", None)
    if over is None or found.settings.clock(over) not in found.confidence:
        yield "over the limit", f"{risk.at_due:.3f} over {risk.limit}: {found.confidence}"


def _already(found: Situation) -> Iterator[tuple[str, str]]:
    """What is said to be too likely already is so now, not only by the time of the break."""
    risk = found.risk
    words = [one.words for one in found.next_break.reasons if "already" in one.words]
    if words and risk is not None and risk.now <= risk.limit:
        yield "already", f"{words[0]}: {risk.now:.3f} of {risk.limit}"


def _apart(found: Situation) -> Iterator[tuple[str, str]]:
    """No two planned breaks are under 15 min apart, but those that keep their own time."""
    planned = [
        slot
        for slot in found.timeline
        if slot.kind in ("break", "night", "visit") and slot.status in ("due", "planned")
    ]
    for one, two in pairwise(planned):
        own = any(words in slot.words for slot in (one, two) for words in OWN_TIME)
        if two.at - max(one.at, found.now) < APART and not own:
            clock = found.settings.clock
            yield "apart", f"{clock(one.at)} ({one.words}), {clock(two.at)} ({two.words})"


def _other_days(found: Situation) -> Iterator[tuple[str, str]]:
    """A clock time of another day carries its day."""
    zone, clock = found.settings.zone, found.settings.clock
    entries = {clock(e.at) for e in found.recent if e.at.astimezone(zone).date() < found.date}
    today = {
        clock(found.now),
        f"{found.settings.home.up:%H:%M}",
        f"{found.settings.home.bed:%H:%M}",
    }
    today |= {clock(e.at) for e in found.recent if e.at.astimezone(zone).date() >= found.date}
    for slot in found.timeline:
        today |= {clock(slot.at), *([clock(slot.planned)] if slot.planned else [])}
    for reason in (*found.next_break.reasons, *found.next_break.later):
        today.add(clock(reason.at))
    for words in (*_why(found), *found.advice, *(job.words for job in found.open_jobs)):
        for hit in CLOCK.finditer(words):
            of_entry = OF_AN_ENTRY.search(words[: hit.start()])
            if of_entry and hit["clock"] in entries - today and not hit["day"]:
                yield "other day", words


def _kept_near(found: Situation) -> Iterator[tuple[str, str]]:
    """No calm state beside the advice to keep the dog within reach until it goes."""
    for words in found.advice:
        near = words.startswith("Nothing came") or "until it does" in words
        if near and found.next_break.state in ("rest", "asleep", "alone"):
            yield "kept near", f"{found.next_break.state}: {words}"


def _paired(found: Situation) -> Iterator[tuple[str, str]]:
    """No entry stands beside a plan over 90 minutes away."""
    for slot in found.timeline:
        if slot.planned and slot.event and abs(slot.event.at - slot.planned) > PAIRED:
            clock = found.settings.clock
            yield "paired", f"{clock(slot.event.at)} beside {clock(slot.planned)}, {slot.words}"


def _day_numbers(found: Situation) -> Iterator[tuple[str, str]]:
    """Day 1 is the day of arrival, and every day has the number of its date."""
    first = found.settings.first_date
    for number, date in (*((day.number, day.date) for day in found.days), (found.day, found.date)):
        if number != (date - first).days + 1:
            yield "day number", f"day {number} is {date}, day 1 is {first}"


def _silence(found: Situation) -> Iterator[tuple[str, str]]:
    """After half a day awake without an entry no number pretends to know."""
    newest = max((e.at for e in found.recent), default=found.settings.dog.arrived)
    # A night of sleep is no silence: it is counted from getting up.
    up = instant_of(found.settings.up_on(found.now.astimezone(found.settings.zone).date()))
    silent = found.now - (max(newest, up) if up <= found.now else newest)
    if found.asleep or silent < HALF_A_DAY:
        return
    chances = CHANCE.findall(found.confidence)
    if chances or "nothing logged since" not in found.confidence.casefold():
        yield "silence", found.confidence


def _called_early(found: Situation) -> Iterator[tuple[str, str]]:
    """A break called ahead of the time in its own reason says by how much; one that something holds
    back past it says since when the chance is over the limit."""
    clock, over = found.settings.clock, getattr(found.risk, "over_from", None)
    for reason in (*found.next_break.reasons, *found.next_break.later):
        if reason.code != "model":
            continue
        said = [hit["clock"] for hit in CLOCK.finditer(reason.words)]
        told = found.asleep == "nap" or " early: " in reason.words  # what waits for a nap says so
        told = told or "; no sooner " in reason.words
        known = [clock(reason.at), *([clock(over)] if over is not None else [])]
        if said and said[0] not in known and not told:
            yield "called early", f"{clock(reason.at)}: {reason.words}"


def _subjects(found: Situation) -> Iterator[tuple[str, str]]:
    """Each sentence about the dog names it: a bare "has held" is about nobody."""
    for words in (found.confidence, found.hold.words, found.hold.brief):
        for part in words.split("; "):
            if part.lower().startswith(("has ", "had ", "holds ")):
                yield "no subject", words


def _one_break(found: Situation) -> Iterator[tuple[str, str]]:
    """The timeline marks the break that the countdown counts to, and nothing planned before it."""
    due, clock = found.next_break, found.settings.clock
    marked = [slot for slot in found.timeline if slot.status == "due"]
    if due.reasons[0].code in ("visit", "return"):
        return
    if not marked:
        sooner = found.sooner
        if sooner and not (sooner.at < due.at and clock(sooner.at) in found.then):
            yield "one break", f"{clock(due.at)} in large, {clock(sooner.at)} in the timeline"
    elif abs(marked[0].at - max(due.at, found.now)) > timedelta(minutes=1):
        yield "one break", f"{clock(due.at)} in large, {clock(marked[0].at)} in the timeline"


def _state_and_minutes(found: Situation) -> Iterator[tuple[str, str]]:
    """The word in large says what the minutes say."""
    due = found.next_break
    allowed = {"late"} if due.minutes < -15 else {"due"} if due.minutes <= 0 else set(CALM)
    if due.minutes == -15:
        allowed.add("late")  # by some seconds
    if due.state not in allowed or (due.state == "rest" and due.minutes <= 15):
        yield "state", f"{due.state} at {due.minutes} min"


def _watching(found: Situation) -> Iterator[tuple[str, str]]:
    """*Watching* says how to keep the dog near, and its next try is within half an hour; from the
    fourth try on stands what straining looks like."""
    due = found.next_break
    advised = any("Nothing came" in words for words in found.advice)
    if due.state == "watching" and not (advised and due.minutes <= 30):
        yield "watching", f"{due.minutes} min: {found.advice}"
    tried = [reason for reason in (*due.reasons, *due.later) if reason.code == "retry"]
    many = any(words in tried[0].words for words in ("4th", "5th", "6th")) if tried else False
    if many and advised and not any("straining" in words for words in found.advice):
        yield "watching", f"{tried[0].words}: {found.advice}"


def _asleep_by_day(found: Situation) -> Iterator[tuple[str, str]]:
    """No clock of the day wakes a dog that naps; a nap that is over by itself is asked about."""
    due = found.next_break
    if found.asleep == "nap" and due.minutes <= 0 and found.alone_since is None:
        waking = [r for r in due.reasons if r.code not in CLOCKS_OF_THE_DAY]
        if not waking:
            yield "nap", f"{due.state} for {', '.join(r.words for r in due.reasons)}"


def _one_pee(found: Situation) -> Iterator[tuple[str, str]]:
    """The last pee of a reason is the one since which the board counts."""
    since = found.since["pee"]
    for words in _why(found):
        for hit in re.finditer(r"last pee \(?(?:[A-Z][a-z]{2} )?(\d\d:\d\d)", words):
            pee = None if since is None else found.now - timedelta(minutes=since)
            near = () if pee is None else (pee, pee - timedelta(minutes=1))
            if hit[1] not in [found.settings.clock(at) for at in near]:
                yield "one pee", f"{words}; {since} min since pee"


def _one_interval(found: Situation) -> Iterator[tuple[str, str]]:
    """A break "every so long" is the interval in force, wherever it is said."""
    every = f"a break every {span_words(found.interval.minutes)}"
    for words in (found.confidence, *_why(found), *found.advice, found.hold.brief):
        if "a break every " in words and every not in words:
            yield "one interval", f"{every}, and {words}"


def _old_bedtime(found: Situation) -> Iterator[tuple[str, str]]:
    """Who is up after a bedtime is not called by it."""
    for reason in found.next_break.reasons:
        stirred = [e for e in found.recent if e.at > reason.at and e.stirs]
        if reason.code == "bedtime" and stirred and found.now - reason.at > HOUR:
            yield "old bedtime", f"{reason.words}, and {stirred[0].row.words} since"


def _one_streak(found: Situation) -> Iterator[tuple[str, str]]:
    """The streak counts the clear days after the last accident."""
    over = [day for day in found.days if day.date < found.date]
    clear = 0
    for day in reversed(over):
        if day.verdict == "accident":
            break
        clear += day.verdict == "clear"
    if found.streak_days not in (clear, 0) and found.days:
        yield "one streak", f"{found.streak_days}, and {clear} clear days"
