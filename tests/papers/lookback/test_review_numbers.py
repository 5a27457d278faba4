"""Every number in the review of a sample is true of its log: each is counted by another way."""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import cache

import pytest

from pottyboard.core.model.localtime import minutes_of
from pottyboard.core.review.report import Review, review
from pottyboard.core.review.sentence import Sentence
from pottyboard.store.samples import Sample, read_sample
from tests.papers.recount import Recount, bound_of, chance_of

NAMES = ("fern", "odin", "wren")
WINDOWS = [*((name, None, None) for name in NAMES), ("odin", 6, 5), ("fern", 8, 7), ("odin", 7, 14)]


@cache
def read(
    name: str, number: int | None = None, days: int | None = None
) -> tuple[Review, Recount, Recount]:
    """Return the review of a sample, the recount of its days and that of the days before."""
    sample: Sample = read_sample(name)
    now = max(event.at for event in sample.events) + timedelta(minutes=5)
    begin = sample.settings.first_date
    first = None if number is None else begin + timedelta(days=number - 1)
    found = review(sample.settings, sample.events, now, first, days)
    start = first or begin
    end = min(sample.last_date, start + timedelta(days=(days or 14) - 1))
    again = Recount(sample.settings, sample.events, now, start, end)
    length = (end - start).days + 1
    before = Recount(
        sample.settings, sample.events, now, start - timedelta(days=length), start - timedelta(1)
    )
    return found, again, before


def expected(again: Recount, before: Recount) -> dict[str, dict[str, float]]:
    """Return every number that a sentence can state, by its topic."""
    settings, verdicts = again.settings, again.verdicts
    whole = Recount(settings, again.log, again.now, settings.first_date, again.today)
    streak = whole.run(whole.verdicts)
    holds, indoors, shown, times = again.hold
    nights, dry = again.nights
    count = verdicts.count
    half = len([day for day in again.dates if day != again.today]) // 2
    early = again.half(lambda days: days[:half])
    recent = again.half(lambda days: days[-half:])
    mornings = [e for e in again.log if again.on(e) == again.first]
    began = mornings[0].t - 180 * (again.first > settings.first_date)
    following = [e for e in again.log if again.on(e) > again.last]
    end = following[0].t - 0.5 if following else minutes_of(again.now)
    topics: dict[str, dict[str, float]] = {
        "record": {
            "days": len(again.dates),
            "first": again.first.toordinal(),
            "last": again.last.toordinal(),
            "number_first": (again.first - settings.first_date).days + 1,
            "number_last": (again.last - settings.first_date).days + 1,
        },
        "outings": {"outings": len(again.outings), "fruitful": again.fruitful,
                    "tardy": again.tardy, "late": 15},
        "pad": {"pad": sum(e.place.casefold() == "pad" and not e.kind.endswith("-inside")
                           and e.kind != "pad" for e in again.events)},
        "accidents": {
            "accidents": len(again.accidents),
            "seen": sum(e.found is False for e in again.accidents),
            "found": sum(e.found is True for e in again.accidents),
            "unsaid": sum(e.found is None for e in again.accidents),
            "late": again.causes["the break was late"],
        },
        "causes": {f"cause {words}": n for words, n in again.causes.items()},
        "days": {"clear": count("clear"), "mishaps": count("accident"),
                 "unknown": count("unknown"), "open": count("open")},
        "streak": {
            "streak": streak,
            "since": int(minutes_of(again.now) - (whole.accidents or [again.log[0]])[-1].t),
        },
        "bound": {"clean": streak, "bound": bound_of(max(1, streak)), "sure": 0.95},
        "interval": {
            "start": again.interval_at(began), "end": again.interval_at(end),
            "steps": again.steps.total(), **{**dict.fromkeys(("wider", "narrower", "household",
            "again"), 0), **again.steps},
        },
        "longest": {"longest": again.longest[0], "on": again.longest[1].toordinal()},
        "hold": {"holds": holds, "indoors": indoors, "shown": shown, "times": times,
                 "safe": again.safe, "sure": 0.97, "enough": 5},
        "nights": {"nights": nights, "dry": dry},
        "alone": {"absences": len(again.of("left")), "alone": int(sum(again.away)),
                  "longest": int(max(again.away, default=0)), "visits": len(again.of("visit"))},
        "halves": {"early": early, "half": half, "recent": recent,
                   "chance": chance_of(early, recent)},
        "before": {
            "days": len(before.dates), "accidents": len(before.accidents),
            "outings": len(before.outings), "clear": before.verdicts.count("clear"),
        },
        "round": {"day": len(whole.dates), "round": 1, "clear": whole.verdicts.count("clear"),
                  "mishaps": whole.verdicts.count("accident"),
                  "unknown": whole.verdicts.count("unknown")},
        "rate": {"accidents": len(whole.accidents), "outings": len(whole.outings),
                 "best": whole.best},
        "reached bound": {"streak": streak, "bound": bound_of(max(1, streak))},
        "reached interval": {
            "interval": whole.interval_at(minutes_of(again.now)),
            "start": whole.interval_at(next(
                e for e in whole.log if whole.on(e) > whole.first).t - 0.5)
            if len(whole.dates) > 1 else whole.interval_at(minutes_of(again.now)),
            "top": {"small": 180, "medium": 210, "large": 240}[settings.dog.size],
        },
    }  # fmt: skip
    if settings.dog.prone:
        topics["reached interval"]["top"] = 120
    return topics


def checked(said: Sentence, numbers: dict[str, float]) -> None:
    """Compare every number of a sentence, and see that no digit stands beside them."""
    rest = said.words
    for number in said.numbers:
        assert number.value == pytest.approx(numbers[number.name], abs=1e-6), (said, number)
        assert number.words in rest, said
        rest = rest.replace(number.words, "", 1)
    assert not re.search(r"\d", rest), said


@pytest.mark.parametrize(("name", "number", "days"), WINDOWS)
def test_every_number_of_the_story(name: str, number: int | None, days: int | None) -> None:
    found, again, before = read(name, number, days)
    assert len(found.story) >= 5
    numbers = expected(again, before)
    for said in found.story:
        checked(said, numbers[said.topic])


@pytest.mark.parametrize("name", NAMES)
def test_every_number_of_what_was_reached(name: str) -> None:
    found, again, before = read(name)
    numbers = expected(again, before)
    for said in found.reached.story:
        topic = said.topic if said.topic in ("round", "rate") else f"reached {said.topic}"
        checked(said, numbers[topic])


@pytest.mark.parametrize("name", NAMES)
def test_the_tables_say_the_same_as_the_story(name: str) -> None:
    found, again, _ = read(name)
    assert sum(day.outings for day in found.days) == len(again.outings)
    assert [event.at for event in found.accidents] == [
        event.at for event in again.of("pee-inside", "poop-inside")
    ]
    assert [day.verdict for day in found.days] == again.verdicts
    assert found.numbers.meals == len(again.of("meal"))


@pytest.mark.parametrize(("name", "number", "days"), WINDOWS)
def test_the_counts_by_day_and_by_hour_are_those_of_the_log(
    name: str, number: int | None, days: int | None
) -> None:
    found, again, _ = read(name, number, days)
    zone = found.settings.zone
    assert [one.outings for one in found.by_day] == [
        sum(again.on(outing[0]) == day for outing in again.outings) for day in again.dates
    ]
    assert sum(one.brought for one in found.by_day) == again.fruitful
    assert sum(one.accidents for one in found.by_day) == len(again.accidents)
    hours = [outing[0].at.astimezone(zone).hour for outing in again.outings]
    assert [one.outings for one in found.by_hour] == [hours.count(hour) for hour in range(24)]
    wet = [event.at.astimezone(zone).hour for event in again.accidents]
    assert [one.accidents for one in found.by_hour] == [wet.count(hour) for hour in range(24)]
    assert sum(one.brought for one in found.by_hour) == again.fruitful


@pytest.mark.parametrize("name", NAMES)
def test_the_waits_are_as_many_as_the_days_have_and_no_longer(name: str) -> None:
    found, again, _ = read(name)
    outside = [wait.minutes for wait in found.waits if not wait.indoors]
    held = [hold for day in found.days for hold in day.holds]
    assert sorted(outside) == sorted(held)
    assert max(outside) == again.longest[0]
    assert all(0 <= wait.share <= 1 for wait in found.waits)
    assert {wait.date for wait in found.waits} <= set(again.dates)


def test_what_each_sample_says() -> None:
    """The sentences as they read, so that a change of their wording is seen."""
    told = {said.topic: said.words for said in read("odin")[0].story}
    assert told["record"] == "13 days of Odin: Sat 9 May to Thu 21 May, day 1 to day 13 at home."
    assert told["streak"].startswith("The streak is 4 clear days; the last accident was 4 days")
    assert told["bound"] == (
        "4 clear days in a row by this plan: on up to 53% of days kept like them there could still "
        "be an accident (95% sure)."
    )
    assert "too little to call it a change" in told["halves"]
    assert date(2026, 5, 9) == read("odin")[0].numbers.first
