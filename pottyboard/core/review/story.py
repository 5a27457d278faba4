"""The story of some days: honest sentences, each with the numbers that it states."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import comb

from pottyboard.core.accidents.accident_views import Account
from pottyboard.core.engine.days import Day
from pottyboard.core.model import figures, priors
from pottyboard.core.model.localtime import instant_of
from pottyboard.core.review.sentence import Sentence, bare, count, day, length, sentence, share
from pottyboard.core.review.tally import Tally
from pottyboard.core.statistics.proportion import CONFIDENCE, bound_after_none
from pottyboard.core.view.situation_views import Change, Situation


def story(
    seen: Situation,
    known: Sequence[Day],
    here: Sequence[Day],
    numbers: Tally,
    before: Tally | None,
    accounts: Sequence[Account],
) -> Iterator[Sentence]:
    """Yield the sentences, each only where the log carries it."""
    name = seen.settings.dog.name
    yield sentence(
        "record",
        "{days} of {name}: {first} to {last}, day {number_first} to day {number_last} at home."
        if numbers.days > 1
        else "{days} of {name}: {first}, day {number_first} at home.",
        count("days", numbers.days, "day"),
        day("first", numbers.first),
        day("last", numbers.last),
        bare("number_first", here[0].plan.number),
        bare("number_last", here[-1].plan.number),
        name=name,
    )
    yield from _outings(numbers)
    yield from _accidents(numbers, accounts)
    if numbers.open < numbers.days:
        yield _days(numbers)
    if here[-1] is known[-1]:
        yield from _streak(seen, known)
    yield from _interval(seen, here, known)
    yield from _holds(seen, numbers, here[-1] is known[-1])
    yield from _nights(numbers)
    yield from _alone(numbers)
    yield from _halves([one for one in here if one is not known[-1]])
    yield from _compared(numbers, before)


def _days(numbers: Tally) -> Sentence:
    return sentence(
        "days",
        "{clear} clear, {mishaps} with an accident, {unknown} unknown"
        + (" (too little logged to tell)" if numbers.unknown else "")
        + (", and {open} not over yet." if numbers.open else "."),
        count("clear", numbers.clear, "day was", "days were"),
        bare("mishaps", numbers.mishaps),
        bare("unknown", numbers.unknown),
        bare("open", numbers.open),
    )


def _outings(numbers: Tally) -> Iterator[Sentence]:
    if not numbers.outings:
        yield sentence("outings", "No outing was logged.")
        return
    yield sentence(
        "outings",
        "{outings} logged, {fruitful} with pee or poop; "
        "{tardy} began over {late} late by the rule.",
        count("outings", numbers.outings, "outing was", "outings were"),
        bare("fruitful", numbers.fruitful),
        bare("tardy", numbers.tardy),
        length("late", figures.LATE),
    )
    if numbers.pad:
        yield sentence(
            "pad",
            "{pad} on the pad: neither an accident nor a success outside.",
            count("pad", numbers.pad, "entry", "entries"),
        )


def _accidents(numbers: Tally, accounts: Sequence[Account]) -> Iterator[Sentence]:
    if numbers.unsure:
        yield sentence(
            "unsure",
            "{unsure} that another dog may have had: not counted here.",
            count("unsure", numbers.unsure, "accident"),
        )
    if not numbers.accidents:
        other = "other " if numbers.unsure else ""
        yield sentence("accidents", f"No {other}accident was logged.")
        return
    unsaid = numbers.accidents - numbers.seen - numbers.found
    yield sentence(
        "accidents",
        "{accidents}: {seen} seen, {found} found afterwards"
        + (", {unsaid} not said" if unsaid else "")
        + (
            "; {late} after a break that was already late, which is no fault of the dog."
            if numbers.late
            else "."
        ),
        count("accidents", numbers.accidents, "accident"),
        bare("seen", numbers.seen),
        bare("found", numbers.found),
        bare("unsaid", unsaid),
        bare("late", numbers.late),
    )
    causes = Counter(account.words for account in accounts if not account.event.unsure)
    if causes:
        said = [bare(f"cause {words}", number) for words, number in causes.most_common()]
        form = "; ".join(f"{number.words} {number.name[6:]}" for number in said)
        yield Sentence("causes", f"Likely why, by the log: {form}.", tuple(said))


def _streak(seen: Situation, known: Sequence[Day]) -> Iterator[Sentence]:
    since = seen.since["accident"]
    streak = count("streak", seen.streak_days, "clear day")
    if since is None:
        never = "never an accident was logged"
        if any(one.accidents for one in known):
            never = "no accident is known to be {name}’s"
        form = f"The streak is {{streak}}, and {never}."
        yield sentence("streak", form, streak, name=seen.settings.dog.name)
    else:
        yield sentence(
            "streak",
            "The streak is {streak}; the last accident was {since} ago.",
            streak,
            length("since", since),
        )
    if seen.streak_days:
        yield sentence(
            "bound",
            "{clean} in a row by this plan: on up to {bound} of days kept like them there could "
            "still be an accident ({sure} sure).",
            count("clean", seen.streak_days, "clear day"),
            share("bound", bound_after_none(seen.streak_days)),
            share("sure", CONFIDENCE),
        )


def _interval(seen: Situation, here: Sequence[Day], known: Sequence[Day]) -> Iterator[Sentence]:
    first, *others = changes_within(seen.interval.changes, here, known)
    end = (others or [first])[-1].after
    if not others:
        yield sentence("interval", "The interval was {end} throughout.", length("end", end))
        return
    kinds = Counter(change.cause for change in others)
    parts = [
        (kinds["wider"], "wider", "{wider} further apart"),
        (kinds["narrower"], "narrower", "{narrower} closer together"),
        (kinds["household"], "household", "{household} set by the household"),
        (kinds["start"], "again", "{again} with a new round"),
    ]
    yield sentence(
        "interval",
        "The interval went from {start} to {end} in {steps}: "
        + ", ".join(form for number, _, form in parts if number)
        + ".",
        length("start", first.after),
        length("end", end),
        count("steps", len(others), "step"),
        *(bare(name, number) for number, name, _ in parts),
    )


def _holds(seen: Situation, numbers: Tally, to_the_end: bool) -> Iterator[Sentence]:
    if numbers.longest_on is not None:
        yield sentence(
            "longest",
            "The longest dry wait by day was {longest}, on {on}.",
            length("longest", numbers.longest_hold),
            day("on", numbers.longest_on),
        )
    hold = seen.hold
    if to_the_end and hold.knows:
        yield sentence(
            "hold",
            "After {holds}, of which {indoors} ended indoors: it has held {shown} by day, {times}; "
            "probably {sure} of waits stay dry to {safe}.",
            count("holds", hold.holds, "wait"),
            bare("indoors", hold.accidents),
            length("shown", hold.shown),
            count("times", hold.times, "time"),
            share("sure", figures.SAFE_SHARE),
            length("safe", hold.safe),
        )
    elif to_the_end:
        yield sentence(
            "hold",
            "How long it can hold is not known yet: {holds}, and {enough} are needed.",
            count("holds", hold.holds, "wait"),
            bare("enough", int(priors.HOLDS_TO_SPEAK)),
        )


def _nights(numbers: Tally) -> Iterator[Sentence]:
    if numbers.nights:
        yield sentence(
            "nights",
            "{nights} between two days with entries: {dry} without an accident.",
            count("nights", numbers.nights, "night"),
            bare("dry", numbers.dry),
        )


def _alone(numbers: Tally) -> Iterator[Sentence]:
    if numbers.absences:
        yield sentence(
            "alone",
            "Left alone {absences}"
            + (", {alone} in all, {longest} the longest" if numbers.alone else "")
            + ("; {visits}." if numbers.visits else "."),
            count("absences", numbers.absences, "time"),
            length("alone", numbers.alone),
            length("longest", numbers.longest_alone),
            count("visits", numbers.visits, "visit"),
        )


def chance_of_split(one: int, other: int) -> float:
    """Return the chance that a fair split of the two together is at least as uneven as this.

    The exact two-sided test of two counts over equal times: binomial with a half.
    """
    total, most = one + other, max(one, other)
    tail = sum(comb(total, k) for k in range(most, total + 1)) / (1 << total)
    return min(1.0, 2 * tail)


def _halves(here: Sequence[Day]) -> Iterator[Sentence]:
    """Compare the first half of whole days with the last, and say how much chance explains."""
    half = len(here) // 2
    if half < figures.HALF_TO_COMPARE:
        return
    early = sum(one.summary.accidents for one in here[:half])
    recent = sum(one.summary.accidents for one in here[-half:])
    if not early + recent:
        return
    chance = chance_of_split(early, recent)
    verdict = "too little to call it a change."
    if chance < figures.CHANCE_TO_SAY_SO:
        verdict = "likely a real change."
    yield sentence(
        "halves",
        "{early} in the first {half} that are over, {recent} in the last: chance alone makes a "
        "split at least so uneven in {chance} of cases; " + verdict,
        count("early", early, "accident"),
        count("half", half, "day"),
        bare("recent", recent),
        share("chance", chance),
    )


def _compared(numbers: Tally, before: Tally | None) -> Iterator[Sentence]:
    if before is None:
        return
    yield sentence(
        "before",
        "In the {days} before: {accidents} and {outings}; {clear} clear.",
        count("days", before.days, "day"),
        count("accidents", before.accidents, "accident"),
        count("outings", before.outings, "outing"),
        count("clear", before.clear, "day was", "days were"),
    )


def changes_within(
    changes: Sequence[Change], here: Sequence[Day], known: Sequence[Day]
) -> tuple[Change, ...]:
    """Return the change in force at the beginning of some days, and those on them."""
    start = instant_of(here[0].plan.start)
    after = known[known.index(here[-1]) + 1 :]
    end = instant_of(after[0].plan.start) if after else None
    earlier = [change for change in changes if change.at < start]
    inside = [c for c in changes if c.at >= start and (end is None or c.at < end)]
    return (*earlier[-1:], *inside)
