"""What one screen says must not contradict itself: the rules, asked of a situation and its words.

Source: our own rules; each is a sentence that a household would otherwise read as two truths.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise
from typing import Final

from pottyboard.core.engine.reasons import RULE_BY_CODE
from pottyboard.core.model.localtime import instant_of
from pottyboard.core.situation import Situation

CHANCE: Final = re.compile(r"(\d+(?:\.\d+)?)(?:%| in 100\b)")
CLOCK: Final = re.compile(r"(?P<day>(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?(?P<clock>\d\d:\d\d)\b")
OF_AN_ENTRY: Final = re.compile(
    r"(?:last pee|pee at|pee since|meal \(|meal at|drink at|play at|nothing at|home at|got up at|"
    r"logged since|asleep since|indoors,) \(?$"
)
"""What stands before the clock time of an entry; other times are those of the plan."""
APART: Final = timedelta(minutes=15)
PAIRED: Final = timedelta(minutes=90)
HALF_A_DAY: Final = timedelta(hours=12)
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
    yield from _apart(found)
    yield from _other_days(found)
    yield from _kept_near(found)
    yield from _paired(found)
    yield from _day_numbers(found)
    yield from _silence(found)
    yield from _called_early(found)
    yield from _subjects(found)


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
    """A break called ahead of the time in its own reason says by how much."""
    clock = found.settings.clock
    for reason in (*found.next_break.reasons, *found.next_break.later):
        if reason.code != "model":
            continue
        said = [hit["clock"] for hit in CLOCK.finditer(reason.words)]
        told = found.asleep == "nap" or " early: " in reason.words  # what waits for a nap says so
        if said and said != [clock(reason.at)] and not told:
            yield "called early", f"{clock(reason.at)}: {reason.words}"


def _subjects(found: Situation) -> Iterator[tuple[str, str]]:
    """Each sentence about the dog names it: a bare "has held" is about nobody."""
    for words in (found.confidence, found.hold.words, found.hold.brief):
        for part in words.split("; "):
            if part.lower().startswith(("has ", "had ", "holds ")):
                yield "no subject", words
