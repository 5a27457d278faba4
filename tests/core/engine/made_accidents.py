"""Made accidents, each with its true cause: how the causes that the board names are judged.

A seed makes one accident of one of fourteen kinds on an ordinary day: times, sizes, what was said
of it, the drinks, the play, the meals and the naps around it all vary. Two of three tell in the log
what it takes to know the cause; the others leave out the one entry that tells, say too little of
the accident, or have a second thing that explains it as well. Of those the true cause and "not
clear" are both right answers. The table :data:`BY_HAND` holds cases that no seed makes.

Everything here is invented; how often which kind happens is our own choice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from random import Random
from typing import Any, Final, NamedTuple

from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

Entry = tuple[int, str, dict[str, Any]]
"""The minute of the day, the kind and the details of an entry."""


class Story(NamedTuple):
    """What led to an accident: its ``entries``, the one that ``tells``, and the accident itself."""

    at: int
    entries: tuple[Entry, ...] = ()
    tells: int | None = 0
    kind: str = "pee-inside"
    said: dict[str, Any] = {}  # noqa: RUF012
    hides: tuple[str, ...] = ()
    """The details without which the cause cannot be told."""


class Made(NamedTuple):
    """One made accident: the page with it, its entry being ``made``, the true cause, and whether
    the log makes it clear."""

    page: Diary
    clock: str
    true: str
    clear: bool
    name: str


def clock(minute: float) -> str:
    """Return a minute of the day as a clock time."""
    return f"{int(minute) // 60:02}:{int(minute) % 60:02}"


# --- What truly happened, told from the minute of the last pee ------------------------------------


def _marking(r: Random, pee: int, interval: int) -> Story:
    said = {"upright": True, "amount": "small", "place": r.choice(["hall", "sofa", "door"])}
    at = pee + r.randint(10, interval - 10)
    return Story(at, tells=None, said=said, hides=(r.choice(["upright", "amount"]),))


def _greeting(r: Random, pee: int, interval: int) -> Story:
    at = pee + r.randint(25, interval - 15)
    came: Entry = (at - r.randint(0, 4), r.choice(["back", "visit"]), {})
    said = {"amount": "small"} if r.random() < 0.6 else {}
    return Story(at, (came,), said=said)


def _leak(r: Random, pee: int, interval: int) -> Story:
    settled = pee + r.randint(5, 30)
    at = settled + r.randint(20, max(25, interval - 40))
    said: dict[str, Any] = {"surface": "fabric"}
    if r.random() < 0.6:
        said |= {"found": True, "dry": r.choice([clock(settled), clock(at - 5), None])}
    return Story(at, ((settled, "settled", {"sleep": "nap"}),), said=said, hides=("surface",))


def _sign(r: Random, pee: int, interval: int) -> Story:
    sign = pee + r.randint(30, interval - 5)
    shown = r.choice(["door", "sniffing", "circling", "pacing", "whining"])
    return Story(sign + r.randint(2, 14), ((sign, "sign", {"sign": shown}),))


def _late(r: Random, pee: int, interval: int) -> Story:
    late = r.randint(16, 80)
    said = {}
    if r.random() < 0.4:
        said = {"found": True, "dry": clock(pee + interval + r.randint(16, max(16, late)))}
    return Story(pee + interval + late + (5 if said else 0), tells=None, said=said, hides=("dry",))


def _empty(r: Random, pee: int, interval: int) -> Story:
    out = pee + interval - r.randint(-10, 30)
    return Story(out + r.randint(5, 25), ((out, "nothing", {}),))


def _meal(r: Random, pee: int, interval: int) -> Story:
    meal = pee + r.randint(15, interval - 35)
    kind = r.choice(["pee-inside", "poop-inside", "poop-inside"])
    return Story(meal + r.randint(4, 28), ((meal, "meal", {}),), kind=kind)


def _alone(r: Random, pee: int, interval: int) -> Story:
    left = pee + r.randint(5, interval - 40)
    after = r.randint(3, 29)
    kind = r.choice(["pee-inside", "pee-inside", "poop-inside"])
    if r.random() < 0.5:
        return Story(left + after, ((left, "left", {}),), kind=kind, said={"alone": True})
    entries: tuple[Entry, ...] = ((left, "left", {}), (left + after, "back", {}))
    said = {"found": True, "dry": clock(left)}
    return Story(left + after + r.randint(1, 8), entries, kind=kind, said=said, hides=("dry",))


def _drink(r: Random, pee: int, interval: int) -> Story:
    drink = pee + r.randint(15, interval - 30)
    return Story(
        drink + r.randint(8, 34), ((drink, "water", {"ml": r.choice([None, 200.0, 350.0])}),)
    )


def _play(r: Random, pee: int, interval: int) -> Story:
    play = pee + r.randint(15, interval - 30)
    return Story(play + r.randint(6, 29), ((play, "play", {}),))


def _woke(r: Random, pee: int, interval: int) -> Story:
    settled = pee + r.randint(5, 25)
    up = settled + r.randint(31, max(40, interval - 30))
    nap = (settled, "settled", {"sleep": "nap"})
    return Story(up + r.randint(0, 9), ((up, "up", {}), nap))


def _unwell(r: Random, pee: int, interval: int) -> Story:
    ill = r.choice(["loose-stool", "small-pees", "vomiting", "blood", "straining", "off-food"])
    noted = max(7 * 60, pee - r.randint(0, 240))
    kind = "poop-inside" if ill == "loose-stool" else "pee-inside"
    return Story(pee + r.randint(15, interval), ((noted, "health", {"finding": ill}),), kind=kind)


def _longer(r: Random, pee: int, interval: int) -> Story:
    return Story(pee + r.randint(interval - 15, interval + 10), tells=None)


def _unknown(r: Random, pee: int, interval: int) -> Story:
    kind = r.choice(["pee-inside", "pee-inside", "poop-inside"])
    return Story(pee + r.randint(12, interval - 35), tells=None, kind=kind)


KINDS: Final[dict[str, Callable[[Random, int, int], Story]]] = {
    "marking": _marking, "greeting": _greeting, "leak": _leak, "sign": _sign, "late": _late,
    "empty": _empty, "meal": _meal, "alone": _alone, "drink": _drink, "play": _play,
    "woke": _woke, "unwell": _unwell, "longer": _longer, "unknown": _unknown,
}  # fmt: skip
_RIVALS: Final = ("drink", "play", "meal", "sign", "alone", "empty", "unwell")
"""What can stand in the log beside another cause and explain the accident as well."""
_RIVALS_OF_SLEEP: Final = ("alone", "unwell")
"""The same of a dog that sleeps just before: the others would show that it was up."""


# --- What the log tells of it ---------------------------------------------------------------------


def made(seed: int) -> Made:
    """Return the accident of a seed: kinds take turns, every third one is ambiguous."""
    r = Random(seed)
    true = list(KINDS)[seed % len(KINDS)]
    clear = (seed // len(KINDS)) % 3 != 2
    days = r.randint(0, 6)
    interval = r.choice([90, 120, 120, 120, 150])
    page = diary(kg=r.choice([6, 12, 15, 24, 30]))
    for day in range(2, 2 + days):
        page = page.on(day).all_at(*CLEAR_DAY)
    page = page.on(2 + days)
    page = page.at("06:30", "up").at("06:31", "interval", minutes=interval)
    page = page.at("06:35", "both").at("07:00", "meal").at("07:20", "poop")
    pee = 7 * 60 + 20 + r.randint(10, 40)
    page = page.at(clock(pee), "pee")
    for _ in range(r.randint(1, 3)):
        pee += interval - r.randint(0, 20)
        page = page.at(clock(pee), r.choice(["pee", "pee", "both"]))
    story = KINDS[true](r, pee, interval)
    how = "clear" if clear else _blurred(true, story, r)
    said, entries = {"found": False, **story.said}, list(story.entries)
    if how == "missing" and story.tells is not None:
        del entries[story.tells]
    if how == "unsaid":
        for name in story.hides:
            said.pop(name, None)
        if r.random() < 0.5 or not story.hides:
            said |= {"found": r.choice([True, None]), "dry": None}
    if how == "rival":
        rivals = _RIVALS_OF_SLEEP if true in ("leak", "woke") else _RIVALS
        other = r.choice([one for one in rivals if one != true])
        entries += _beside(other, story.at, r)
    for minute, kind, details in sorted(entries, key=lambda entry: entry[0]):
        page = page.at(clock(minute), kind, **details)
    wet = {name: value for name, value in said.items() if name == "found" or value is not None}
    at = clock(story.at)
    page = page.at(at, story.kind, id="made", **wet)
    return Made(page, at, true, clear, f"{seed} {true} {how}")


def _blurred(true: str, story: Story, r: Random) -> str:
    """Return how the log hides the cause; what has none cannot have another one beside it."""
    ways = (
        ["unsaid"] + ["rival"] * (true != "unknown") + ["missing"] * 2 * (story.tells is not None)
    )
    return r.choice(ways)


def _beside(other: str, at: int, r: Random) -> list[Entry]:
    """Return an entry of another cause, shortly before the accident."""
    before = at - r.randint(6, 25)
    kind, details = {
        "drink": ("water", {}), "play": ("play", {}), "meal": ("meal", {}),
        "sign": ("sign", {"sign": "pacing"}), "alone": ("left", {}), "empty": ("nothing", {}),
        "unwell": ("health", {"finding": "vomiting"}),
    }[other]  # fmt: skip
    return [(before, kind, details)]


# --- What no seed makes ---------------------------------------------------------------------------

_DAY: Final = (*MORNING, "08:35 pee", "10:30 pee", "12:25 pee")


def _by_hand(
    true: str, clear: bool, entries: str, at: str, kind: str = "pee-inside", **said: Any
) -> Made:
    """Return an accident on a day with an interval of 2 h 30 and the last pee at 12:25."""
    page = diary().on(2).all_at(*CLEAR_DAY).on(3).all_at(*CLEAR_DAY).on(4)
    page = page.all_at(*_DAY, *(entries.split(", ") if entries else ()))
    page = page.at(at, kind, id="made", **said)
    return Made(page, at, true, clear, f"by hand {true}: {entries or 'nothing'}; {at}")


def _night(true: str, clear: bool, at: str, kind: str = "pee-inside", **said: Any) -> Made:
    """Return an accident in the third night, after two of 8 h that stayed dry."""
    page = diary().on(2).all_at(*CLEAR_DAY).on(3).all_at(*CLEAR_DAY).on(4)
    page = page.at(at, kind, id="made", **said)
    return Made(page, at, true, clear, f"by night {true}: {at} {said}")


BY_HAND: Final[tuple[Made, ...]] = (
    _by_hand("drink", True, "13:10 water", "13:35"),
    _by_hand("drink", True, "13:10 water, 13:12 play", "13:13", amount="large"),
    _by_hand("unknown", False, "13:10 water, 13:30 pee", "13:50"),
    _by_hand("play", True, "13:10 play", "13:22"),
    _by_hand("woke", True, "12:40 settled, 13:40 up", "13:44"),
    _by_hand("unknown", True, "12:40 settled, 12:50 up", "12:54"),
    _by_hand("woke", False, "12:40 settled", "13:50", surface="sealed"),
    _by_hand("leak", True, "12:40 settled", "13:30", surface="fabric", found=True),
    _by_hand("leak", True, "12:40 settled", "13:30", surface="fabric"),
    _by_hand("unwell", True, "12:30 health", "12:55", found=True, dry="12:40"),
    _by_hand("unknown", True, "", "13:10"),
    _by_hand("unknown", True, "", "13:05", "poop-inside"),
    _by_hand("unknown", False, "", "14:00", found=None),
    _by_hand("longer", True, "", "14:24"),
    _by_hand("late", True, "", "15:15"),
    _by_hand("late", True, "13:10 sign", "15:00"),
    _by_hand("sign", True, "13:10 sign", "13:20"),
    _by_hand("meal", True, "13:00 meal", "13:12", "poop-inside"),
    _by_hand("unknown", False, "13:00 meal, 13:00 water", "13:12"),
    _by_hand("late", False, "", "15:20", found=True, dry="14:00"),
    _by_hand("alone", True, "13:00 left", "13:10", alone=True),
    _by_hand("alone", False, "13:00 left, 16:00 back", "16:05", found=True),
    _by_hand("greeting", True, "13:00 back", "13:02", amount="small"),
    _by_hand("unknown", False, "13:00 back", "13:04", "poop-inside"),
    _night("leak", True, "03:00", surface="fabric"),
    _night("leak", True, "05:00", surface="fabric", found=True),
    _night("longer", True, "05:30"),
    _night("unknown", False, "06:00", found=True),
)  # fmt: skip
# A health note needs what it is about: the plain entry above is "other", which is no sign.


def seeds(first: int, last: int) -> Iterator[Made]:
    """Yield the made accidents of the seeds from ``first`` up to but not ``last``."""
    yield from map(made, range(first, last))


class Judged(NamedTuple):
    """What became of the made accidents: how many of each true cause were named how."""

    named: dict[tuple[str, str], int]
    total: int
    wrong: tuple[str, ...]
    wrong_narrowing: tuple[str, ...]
    clear: int
    clear_named: int


def judge(cases: Iterable[Made]) -> Judged:
    """Return how the board names the causes of ``cases``."""
    named: dict[tuple[str, str], int] = {}
    wrong, narrowing, total, clear, right = [], [], 0, 0, 0
    for case in cases:
        shown = next(a for a in case.page.read(case.clock).accidents if a.event.id == "made")
        day = case.page.days(case.clock)[-1]
        at = shown.event.t
        moved = any(step.at == at and step.cause == "narrower" for step in day.steps)
        named[case.true, shown.cause] = named.get((case.true, shown.cause), 0) + 1
        total += 1
        clear += case.clear
        right += case.clear and shown.cause == case.true
        if shown.cause not in (case.true, "unknown"):
            told = f"{case.name}: named {shown.cause}"
            wrong.append(told)
            if moved:
                narrowing.append(told)
    return Judged(named, total, tuple(wrong), tuple(narrowing), clear, right)
