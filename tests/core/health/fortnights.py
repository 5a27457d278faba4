"""Made fortnights for the warnings: of dogs that are well, and of dogs that are ill in one way.

Everything is invented and follows from a seed: the dog, its hours, how often it is taken out, and
how many of its pees somebody notes as small or large. What is normal here is common practice, no
source: 6 to 14 outings a day, one to three stools, up to 60 mL of water per kilogram, a few
accidents at first, now and then a sign of nerves in the first three days.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from typing import Any, Final, NamedTuple

from pottyboard.core.events import Event
from pottyboard.core.health.health_views import Level
from pottyboard.core.questions import settings_from

DAYS: Final = 14
_ARRIVED: Final = datetime(2026, 3, 2, 5, 30, tzinfo=UTC)
"""06:30 in Oslo, on a Monday weeks away from any change of the clocks."""
_UP, _BED = 0, 16 * 60
_HOUR, _DAY = 60, 1440


class Entry(NamedTuple):
    """One entry, so many minutes after the arrival."""

    at: float
    kind: str
    details: dict[str, Any]


class Mix(NamedTuple):
    """How a household notes amounts: which share of the pees as small, and which as large."""

    small: float
    large: float


class Made(NamedTuple):
    """A made log: the answers of the set-up, and what was logged, in order."""

    answers: dict[str, str]
    entries: tuple[Entry, ...]

    def log(self) -> tuple[Any, tuple[Event, ...]]:
        """Return the settings and the events."""
        events = tuple(
            Event(
                entry.kind, _ARRIVED + timedelta(minutes=entry.at), id=f"m{n:04}", **entry.details
            )
            for n, entry in enumerate(self.entries)
        )
        return settings_from(self.answers, _ARRIVED), events


class Ill(NamedTuple):
    """A made log with one illness, and the warning that it has to raise by ``by`` (minutes).

    ``codes`` are the warnings that will do: a dog that asks often also passes little.
    """

    name: str
    made: Made
    codes: str
    level: Level
    by: float


# --- Dogs that are well ---------------------------------------------------------------------------


def normal(seed: int, mix: Mix, *, calm: bool = False) -> Made:
    """Return a fortnight of a dog that is well; ``calm`` leaves out accidents and nerves."""
    chance = random.Random(f"{seed} {mix} {calm}")
    kg = chance.choice((2.8, 3.5, 6, 9, 14, 19, 25, 38))
    answers = {
        "zone": "Europe/Oslo",
        "arrived": "2026-03-02 06:30",
        "weight": f"{kg:g}",
        "age": chance.choice(("adult", "adult", "adult", "senior")),
        "sex": chance.choice(("female", "male")),
        "vet": "done",
    }
    outings = chance.randint(6, 14)
    frail = kg < 4 or answers["age"] == "senior"
    found: list[Entry] = []
    for day in range(DAYS):
        found += _day(chance, day, outings, kg, mix)
        if not calm:
            found += _mishaps(chance, day, mix)
    if not (calm or frail) and chance.random() < 0.5:
        sign = chance.choice(("off-food", "loose-stool", "listless"))
        day = chance.randrange(3)
        found.append(_entry(day, chance.uniform(120, 900), "health", finding=sign))
    return Made(answers, _in_order(found))


def _entry(day: int, minute: float, kind: str, **details: Any) -> Entry:
    return Entry(day * _DAY + round(minute), kind, details)


def _in_order(entries: list[Entry]) -> tuple[Entry, ...]:
    return tuple(sorted(entries, key=lambda entry: (entry.at, entry.kind)))


def _day(chance: random.Random, day: int, outings: int, kg: float, mix: Mix) -> Iterator[Entry]:
    """Yield a day from getting up to the night: outings, meals, drinks, play."""
    yield _entry(day, _UP + chance.randint(0, 15) * (day > 0), "up")
    for clock in (40, 11 * _HOUR):
        yield _entry(day, clock + chance.uniform(-10, 10), "meal")
    share = chance.uniform(0.25, 0.55) * kg * 100 / 4
    for clock in (50, 5 * _HOUR, 9 * _HOUR, 13 * _HOUR):
        yield _entry(day, clock + chance.uniform(-20, 20), "water", ml=round(share))
    if chance.random() < 0.4:
        yield _entry(day, chance.uniform(3 * _HOUR, 12 * _HOUR), "play")
    number = max(6, outings + chance.choice((-1, 0, 0, 1)))
    gap = (_BED - 20) / (number - 1)
    times = [18 + gap * n + chance.uniform(-0.25, 0.25) * gap * (n > 0) for n in range(number)]
    stools = set(chance.sample(range(number), chance.choice((1, 2, 2, 3))))
    for n, minute in enumerate(times):
        pees = n in (0, number - 1) or chance.random() < 0.9
        if chance.random() < 0.1:
            yield _entry(day, minute - 2, "sign", sign=chance.choice(("door", "circling")))
        if n in stools:
            yield _entry(day, minute, "both" if pees else "poop")
        elif pees:
            yield _entry(day, minute, "pee", amount=_amount(chance, mix))
        else:
            yield _entry(day, minute, "nothing")
    yield _entry(day, _BED + 20, "settled", sleep="night")


def _amount(chance: random.Random, mix: Mix) -> str:
    number = chance.random()
    if number < mix.small:
        return "small"
    if number < mix.small + mix.large:
        return "large"
    return chance.choice(("", "usual"))


def _mishaps(chance: random.Random, day: int, mix: Mix) -> Iterator[Entry]:
    """Yield the accidents of a day: some in the first days, later one in four days at most.

    Three at once after clear days, or three wet nights, would be what the warnings are there for.
    """
    if chance.random() < (0.4 if day < 4 else 0.2 if day % 4 == 0 else 0):
        seen = chance.random() < 0.5
        yield _entry(
            day, chance.uniform(2 * _HOUR, 15 * _HOUR), "pee-inside", found=not seen,
            amount=_amount(chance, mix), surface=chance.choice(("", "sealed", "carpet")),
        )  # fmt: skip
    if day in (1, 9) and chance.random() < 0.2:
        yield _entry(day, _DAY - 3 * _HOUR, "pee-inside", found=True, surface="sealed")


# --- Dogs that are ill ----------------------------------------------------------------------------


def _without(made: Made, first: float, last: float, kinds: str) -> list[Entry]:
    """Return the entries, those of some kinds between two instants left out."""
    wanted = kinds.split()
    return [e for e in made.entries if not (first <= e.at < last and e.kind in wanted)]


def _noted(entries: list[Entry], made: Made, *notes: tuple[float, str]) -> Made:
    more = [Entry(round(at), "health", {"finding": finding}) for at, finding in notes]
    return Made(made.answers, _in_order([*entries, *more]))


def _straining(chance: random.Random, made: Made, at: float) -> Ill:
    page = _noted(_without(made, at, at + _DAY, "pee both"), made, (at, "straining"))
    return Ill("straining", page, "straining", "now", at)


def _blood(chance: random.Random, made: Made, at: float) -> Ill:
    return Ill("blood", _noted([*made.entries], made, (at, "blood")), "blood", "soon", at)


def _small_pees(chance: random.Random, made: Made, at: float) -> Ill:
    """Pee every 40 to 90 min by day, four of five noted as small."""
    entries = _without(made, at, at + 2 * _DAY, "pee nothing")
    minute = at
    while minute < at + 2 * _DAY:
        if minute % _DAY < _BED:
            amount = "small" if chance.random() < 0.8 else ""
            entries.append(Entry(round(minute), "pee", {"amount": amount}))
        minute += chance.uniform(40, 90)
    page = Made(made.answers, _in_order(entries))
    return Ill("many small pees", page, "small-pees often", "soon", at + 2 * _DAY)


def _often(chance: random.Random, made: Made, at: float) -> Ill:
    """Ask every 25 to 35 min for three hours, uncalled, and nobody notes an amount."""
    entries = _without(made, at - 60, at + 180, "meal water play sign nothing")
    minute = at
    for _ in range(6):
        entries.append(Entry(round(minute), "pee", {}))
        minute += chance.uniform(25, 35)
    page = Made(made.answers, _in_order(entries))
    return Ill("pee upon pee", page, "often small-pees", "soon", minute)


def _drinking(chance: random.Random, made: Made, at: float) -> Ill:
    """Drink over 100 mL/kg on a day, or over 60 on two."""
    kg, day = float(made.answers["weight"]), at // _DAY * _DAY
    entries = _without(made, day, day + 2 * _DAY, "water")
    one = chance.random() < 0.5
    each = (chance.uniform(105, 140) if one else chance.uniform(64, 95)) * kg / 4
    for start in (day,) if one else (day, day + _DAY):
        entries += [
            Entry(round(start + clock), "water", {"ml": round(each, 1)})
            for clock in (60, 300, 540, 780)
        ]
    page = Made(made.answers, _in_order(entries))
    return Ill("drinking a lot", page, "drinking", "soon", day + 2 * _DAY)


def _wet_bed(chance: random.Random, made: Made, at: float) -> Ill:
    nap = at // _DAY * _DAY + chance.uniform(3 * _HOUR, 9 * _HOUR)
    entries = _without(made, nap, nap + 50, "pee both poop nothing play sign water meal up")
    entries.append(Entry(round(nap), "settled", {"sleep": "nap"}))
    details = {"found": False, "surface": "fabric"}
    entries.append(Entry(round(nap) + 45, "pee-inside", details))
    page = Made(made.answers, _in_order(entries))
    return Ill("wet bed", page, "wet-bed", "soon", round(nap) + 45)


def _loose(chance: random.Random, made: Made, at: float) -> Ill:
    notes = [(at + hours * _HOUR, "loose-stool") for hours in (0, 7, 24, 31)]
    return Ill("loose for over a day", _noted([*made.entries], made, *notes), "loose-stool",
               "soon", at + 31 * _HOUR)  # fmt: skip


def _no_pee(chance: random.Random, made: Made, at: float) -> Ill:
    """Vomit, lie about, and no pee comes any more, whatever the hour."""
    end = at + 18 * _HOUR
    entries = [
        Entry(e.at, "nothing", {}) if at <= e.at < end and e.kind in ("pee", "both") else e
        for e in _without(made, at, end, "meal water play pee-inside")
    ]
    page = _noted(entries, made, (at + 60, "vomiting"), (at + 150, "listless"))
    return Ill("unwell and no pee", page, "no-pee", "now", at + 16 * _HOUR)


def _relapse(chance: random.Random, made: Made, at: float) -> Ill:
    """Four accidents in seven hours, each inside the interval, after days without any."""
    day = at // _DAY * _DAY
    entries = [e for e in made.entries if not day + 60 <= e.at < day + 700 or e.kind == "meal"]
    for number in range(4):
        out = day + 120 + 130 * number
        entries.append(Entry(out, "pee", {}))
        seen = {"found": False, "place": "hall"}
        entries.append(Entry(out + round(chance.uniform(100, 115)), "pee-inside", seen))
    page = Made(made.answers, _in_order(entries))
    return Ill("relapse", page, "relapse", "soon", day + _DAY)


def _no_stool(chance: random.Random, made: Made, at: float) -> Ill:
    end = at + 4 * _DAY
    entries = [
        Entry(e.at, {"both": "pee", "poop": "nothing"}[e.kind], {})
        if at <= e.at < end and e.kind in ("both", "poop")
        else e
        for e in made.entries
    ]
    page = Made(made.answers, _in_order(entries))
    return Ill("no stool", page, "no-stool", "watch", end)


def _stools(chance: random.Random, made: Made, at: float) -> Ill:
    """Six stools from a morning to the evening."""
    day = at // _DAY * _DAY
    entries = _without(made, day, day + _DAY, "poop")
    entries += [Entry(day + 60 + 130 * n, "poop", {}) for n in range(6)]
    page = Made(made.answers, _in_order(entries))
    return Ill("six stools", page, "stools", "soon", day + _DAY)


def _strains_to_poop(chance: random.Random, made: Made, at: float) -> Ill:
    page = _noted([*made.entries], made, (at, "straining-stool"))
    return Ill("straining to pass stool", page, "straining-stool", "ask", at)


ILLNESSES: Final[tuple[Callable[[random.Random, Made, float], Ill], ...]] = (
    _straining, _blood, _small_pees, _often, _drinking, _wet_bed, _loose, _no_pee, _relapse,
    _no_stool, _stools, _strains_to_poop,
)  # fmt: skip


def ill(seed: int, mix: Mix, which: int) -> Ill:
    """Return a fortnight with the illness of this number, begun by day between days 7 and 9."""
    chance = random.Random(f"ill {seed} {which}")
    made = normal(seed, mix, calm=True)
    at = chance.randint(6, 8) * _DAY + round(chance.uniform(60, 14 * _HOUR))
    return ILLNESSES[which](chance, made, at)
