"""What can be logged: one frozen value for an entry, one table for the kinds.

The table :data:`KINDS` is the only list of kinds. Logging, the timeline, the papers, import and
export are made from it, so that a new kind of entry is one new row.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from datetime import UTC, datetime
from typing import Final, Literal

from msgspec import Struct

from pottyboard.core.model.localtime import Minutes, minutes_of

Clock = Literal["pee", "poop", "meal", "water", "out", "accident"]
"""A clock that an entry sets back to zero: "time since the last …"."""

CLOCK_WORDS: Final[dict[Clock, str]] = {
    "pee": "pee",
    "poop": "poop",
    "meal": "meal",
    "water": "drink",
    "out": "outing",
    "accident": "accident",
}
"""How each clock reads, in the order in which the views show them."""

Group = Literal["outing", "accident", "food", "sign", "sleep", "company", "care", "visits"]
"""What sort of entry a kind is, for layout and counting; *visits* are agreements with helpers,
which say nothing of the dog."""


class EventError(ValueError):
    """An entry that cannot be accepted, with a message that says what to do instead.

    ``field`` names the field of :class:`Event` that does not fit, empty where it is no single one.
    """

    def __init__(self, words: str, field: str = "") -> None:
        """Keep the message and the field."""
        super().__init__(words)
        self.field = field


@dataclass(frozen=True, slots=True)
class Event:
    """One entry of the log: something that happened at an instant.

    ``kind`` is a code of :data:`KINDS`; ``at`` an aware instant (kept in UTC); ``zone`` the IANA
    zone of the place where it was logged; ``by`` who logged it; ``logged`` when it was typed. The
    other fields belong to some kinds only (see :attr:`Kind.carries`): ``place`` a room, a spot or
    ``pad``; ``found`` whether an accident was found rather than seen happening; ``dry`` when the
    floor was last seen dry; ``alone`` whether the dog was alone; ``cause`` why it happened, where
    the household has said so (:data:`CAUSES`); ``amount`` how much came (:data:`AMOUNTS`);
    ``surface`` what it went on (:data:`SURFACES`); ``upright`` whether against something upright
    rather than on the floor; ``unsure`` whether another dog may have done it; ``sleep`` a ``nap``
    or the ``night``; ``sign`` which sign; ``ml`` millilitres drunk, or filled into the bowl;
    ``rest`` millilitres that were left in the bowl before; ``minutes`` an interval set by the
    household; ``finding`` what a health note is about (:data:`FINDINGS`); ``measure`` which change
    of the routine was taken (:data:`MEASURES`); ``about`` what the entry answers: the ``id`` of an
    accident, or the code of a warning; ``whom`` the helper of a visit, ``comes`` when it begins and
    ``means`` how the helper was told (:data:`MEANS`). Of a visit ``minutes`` is how long it lasts,
    and ``about`` the ``id`` of the entry that first told of it.

    ``t`` is ``at`` in epoch minutes, for arithmetic. Raises :class:`EventError` for an unknown
    kind and ``TimeError`` for a naive instant.
    """

    kind: str
    at: datetime
    id: str = ""
    by: str = ""
    note: str = ""
    zone: str = ""
    logged: datetime | None = None
    place: str = ""
    found: bool | None = None
    dry: datetime | None = None
    alone: bool | None = None
    cause: str = ""
    sleep: str = ""
    sign: str = ""
    ml: float | None = None
    rest: float | None = None
    minutes: float | None = None
    amount: str = ""
    surface: str = ""
    upright: bool | None = None
    unsure: bool | None = None
    finding: str = ""
    measure: str = ""
    about: str = ""
    whom: str = ""
    comes: datetime | None = None
    means: str = ""
    t: Minutes = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Bring every instant to UTC and keep the epoch minutes."""
        if self.kind not in KINDS:
            kind_named(self.kind)
        object.__setattr__(self, "t", minutes_of(self.at))
        for name in INSTANTS:
            instant = getattr(self, name)
            if instant is not None and instant.tzinfo is not UTC:
                minutes_of(instant)
                object.__setattr__(self, name, instant.astimezone(UTC))

    @property
    def row(self) -> Kind:
        """The row of :data:`KINDS` for this entry."""
        return KINDS[self.kind]

    @property
    def is_agreement(self) -> bool:
        """Whether it is about what was agreed with a helper, and says nothing of the dog."""
        return self.row.group == "visits"

    @property
    def on_pad(self) -> bool:
        """Whether it went to the pad: that is neither an accident nor a success outside."""
        return self.place.casefold() == PAD and self.row.is_outing

    @property
    def went_out(self) -> bool:
        """Whether the dog was taken outside; its pad is indoors."""
        return self.row.is_outing and not self.on_pad

    @property
    def done(self) -> str:
        """How it reads as a finished sentence after the dog's name."""
        return _ON_PAD[self.kind] if self.on_pad else self.row.done

    @property
    def stirs(self) -> bool:
        """Whether it shows that the dog is awake: an accident found, or a leak, does not."""
        return self.row.stirs and not (
            self.row.is_accident and (self.found or self.cause == "leak")
        )

    @property
    def is_small_pee(self) -> bool:
        """Whether the dog peed outside and only little came: that empties the bladder in part."""
        return self.amount == "small" and self.went_out and "pee" in self.row.resets

    @property
    def empties_bladder(self) -> bool:
        """Whether the clock of the hold starts anew with it: a mark, a greeting dribble, a leak and
        a small pee outside leave it running."""
        if "pee" not in self.row.resets:
            return False
        return self.cause not in DRIBBLES and not self.is_small_pee

    @property
    def counts_against_plan(self) -> bool:
        """Whether this accident can move the interval.

        What is no matter of the plan cannot, nor what another dog may have done.
        """
        return self.cause not in OTHER_CAUSES and not self.unsure


class Kind(Struct, frozen=True):
    """One kind of entry: a row of :data:`KINDS`.

    ``words`` names it in lists; ``done`` reads as a finished sentence after the dog's name;
    ``resets`` are the clocks it sets back; ``carries`` the fields of :class:`Event` it may hold
    beside the common ones; ``mark`` and ``plain`` are its single-cell glyphs, the second in ASCII.
    ``stirs`` tells whether it shows that the dog is awake and about, so that its sleep has ended.
    """

    code: str
    words: str
    done: str
    group: Group
    resets: frozenset[Clock]
    carries: tuple[str, ...]
    mark: str
    plain: str
    stirs: bool = False

    @property
    def is_outing(self) -> bool:
        """Whether the dog was taken out, or to its pad (see :attr:`Event.went_out`)."""
        return self.group == "outing"

    @property
    def is_accident(self) -> bool:
        """Whether it went indoors where it should not."""
        return self.group == "accident"

    @property
    def is_success(self) -> bool:
        """Whether the outing brought something."""
        return self.group == "outing" and self.code != "nothing"


PAD: Final = "pad"
UNKNOWN_DOG: Final = "which dog is not known"
"""How :attr:`Event.unsure` reads."""

_ON_PAD: Final = {
    "pee": "peed on the pad",
    "poop": "pooped on the pad",
    "both": "peed and pooped on the pad",
    "nothing": "was at the pad, nothing came",
}
SIGNS: Final = ("door", "sniffing", "circling", "pacing", "whining")
SLEEPS: Final = ("nap", "night")
OTHER_CAUSES: Final = ("marking", "greeting", "leak", "unwell")
"""Causes that are no matter of the plan: upright and small, at a greeting, asleep, an illness."""
DRIBBLES: Final = ("marking", "greeting", "leak")
"""Causes of which no bladder is emptied."""
SPARING_CAUSES: Final = (*OTHER_CAUSES, "woke")
"""Causes that do not move the interval: those, and right after waking."""
CAUSES: Final = (
    *SPARING_CAUSES, "sign", "late", "empty", "meal", "drink", "play", "alone", "longer", "unknown",
)  # fmt: skip
"""Why an accident happened: no matter of the plan, a sign of illness was noted, it had just woken,
a sign was missed, the break was late, after nothing came and free roaming, after a meal, a long
drink or play, alone soon after leaving, longer than the dog has held, unknown.
"""
AMOUNTS: Final = ("small", "usual", "large")
SURFACES: Final = ("sealed", "wood", "carpet", "fabric")
"""What an accident went on: tiles or vinyl, bare wood, carpet or rug, sofa or bedding."""
FINDINGS: Final = (
    "straining", "blood", "pain", "small-pees", "vomiting", "loose-stool", "off-food", "listless",
    "straining-stool", "distress", "other",
)  # fmt: skip
"""What a health note is about; ``distress`` is that of a dog left alone."""
ILLNESS: Final = tuple(finding for finding in FINDINGS if finding not in ("distress", "other"))
"""Those that are a sign of illness."""
ACCIDENT_MEASURES: Final = ("earlier", "after-meal", "before-leaving", "watch", "block")
"""Changes of the routine that an accident suggests: a break that much earlier each day, the break
after meals sooner, one right before leaving, in arm's reach after nothing came, the spot blocked.
"""
CALL_MEASURES: Final = (
    "call-meal", "call-drink", "call-play", "drop-meal", "drop-drink", "drop-play",
    "fixed-reasons", "own-log",
)  # fmt: skip
"""What calls a break once the dog is known: again after each meal, long drink or play, or no more;
all the fixed reasons of the first days; or its own log alone, as the board would have it."""
MEASURES: Final = (*ACCIDENT_MEASURES, *CALL_MEASURES)

MEANS: Final = ("calendar", "sheet", "said")
"""How a helper was told of a visit: by a calendar, by a sheet, or by somebody who said so."""

INSTANTS: Final = ("at", "logged", "dry", "comes")
COMMON: Final = ("kind", "at", "id", "by", "note", "zone", "logged")
_DETAILS: Final = tuple(
    spec.name for spec in fields(Event) if spec.init and spec.name not in COMMON
)
_ACCIDENT: Final = (
    "place", "found", "dry", "alone", "cause", "amount", "surface", "upright", "unsure",
)  # fmt: skip


def _table(*rows: Kind) -> dict[str, Kind]:
    return {row.code: row for row in rows}


def _row(
    code: str,
    words: str,
    done: str,
    group: Group,
    marks: str,
    resets: tuple[Clock, ...] = (),
    carries: tuple[str, ...] = (),
    *,
    stirs: bool = False,
) -> Kind:
    return Kind(code, words, done, group, frozenset(resets), carries, marks[0], marks[1], stirs)


KINDS: Final[dict[str, Kind]] = _table(
    _row("pee", "pee", "peed outside", "outing", "●p", ("pee", "out"),
         ("place", "amount"), stirs=True),
    _row("poop", "poop", "pooped outside", "outing", "◆o", ("poop", "out"), ("place",), stirs=True),
    _row("both", "pee and poop", "peed and pooped outside", "outing", "◈b",
         ("pee", "poop", "out"), ("place",), stirs=True),
    _row("nothing", "nothing came", "went out, nothing came", "outing", "○n", ("out",),
         ("place",), stirs=True),
    _row("pee-inside", "pee indoors", "peed indoors", "accident", "▲!", ("pee", "accident"),
         _ACCIDENT, stirs=True),
    _row("poop-inside", "poop indoors", "pooped indoors", "accident", "▲!",
         ("poop", "accident"), _ACCIDENT, stirs=True),
    _row("cleaned", "cleaned up", "spot cleaned", "care", "✓c", (), ("place", "about")),
    _row("meal", "meal", "ate", "food", "■m", ("meal",), stirs=True),
    _row("water", "long drink", "drank", "food", "~w", ("water",), ("ml",), stirs=True),
    _row("bowl", "water bowl", "had its bowl filled", "food", "u)", (), ("ml", "rest")),
    _row("sign", "signal", "showed a signal", "sign", "?s", (), ("sign",), stirs=True),
    _row("up", "got up", "got up", "sleep", "△u", stirs=True),
    _row("settled", "settled", "settled down", "sleep", "▽z", (), ("sleep",)),
    _row("play", "play", "played", "sign", "*y", stirs=True),
    _row("left", "left alone", "was left alone", "company", "→>"),
    _row("back", "came home", "has company again", "company", "←<"),
    _row("visit", "visit", "had a visit", "company", "+v", stirs=True),
    _row("pad", "pad changed", "pad changed or moved", "care", "▭#", (), ("place",)),
    _row("duty", "on duty", "change of duty", "care", "@@"),
    _row("interval", "interval set", "interval set by the household", "care", "↕i", (),
         ("minutes",)),
    _row("routine", "routine changed", "has a changed routine", "care", "≡=", (),
         ("measure", "minutes", "about")),
    _row("round", "new round", "began a new round", "care", "↻0"),
    _row("noted", "warning noted", "had a warning noted", "care", "!,", (), ("about",)),
    _row("vet", "vet check", "seen by the vet", "care", "&x"),
    _row("health", "health note", "health note", "care", "%h", (), ("finding",)),
    _row("quiet", "nothing else happened", "had nothing else happen", "care", "=q"),
    _row("seen", "it was seen", "had an accident that was seen", "care", "°1", (), ("about",)),
    _row("found", "it was found", "had an accident that was found", "care", "°2", (), ("about",)),
    _row("same", "the same one", "had one thing written twice", "care", "≡1", (), ("about",)),
    _row("two", "two of them", "had two things written", "care", "≡2", (), ("about",)),
    _row("told", "visit told", "has a visit that a helper was told of", "visits", "»+", (),
         ("whom", "comes", "minutes", "means", "about")),
    _row("called-off", "visit called off", "has a visit less", "visits", "«-", (),
         ("whom", "comes", "about")),
    _row("left-so", "visits left as agreed", "keeps its visits as agreed", "visits", "=:", (),
         ("whom", "comes", "about")),
    _row("note", "note", "note", "care", '"t'),
)  # fmt: skip


CHOICES: Final = {
    "sign": SIGNS, "sleep": SLEEPS, "cause": CAUSES, "amount": AMOUNTS, "surface": SURFACES,
    "finding": FINDINGS, "measure": MEASURES, "means": MEANS,
}  # fmt: skip
"""The answers that a field allows, by the field."""
ANSWERS: Final = ("quiet", "seen", "found", "same", "two")
"""Kinds of entry that answer a question of the board: nothing happened in hours without an entry;
an accident was seen, or found; two entries are one thing, or two."""


def kind_named(code: str) -> Kind:
    """Return the kind with this code; raise :class:`EventError` that suggests the nearest one."""
    row = KINDS.get(code)
    if row is not None:
        return row
    meant = code.casefold()
    near = (
        [meant]
        if meant in KINDS
        else [row.code for row in KINDS.values() if meant in (row.group, *row.words.split())]
    )
    if not near:
        import difflib  # only to say what was meant: a start without a slip needs none of it

        near = difflib.get_close_matches(meant, KINDS, n=1, cutoff=0.5)
    hint = f"Did you mean “{'” or “'.join(near)}”?" if near else f"Kinds: {' '.join(KINDS)}."
    raise EventError(f"“{code}” is not a kind of entry. {hint}")


def check_details(event: Event) -> Event:
    """Return ``event`` if each detail fits its kind; raise :class:`EventError` otherwise."""
    row = event.row
    for name in _DETAILS:
        if name not in row.carries and getattr(event, name) not in (None, ""):
            raise EventError(f"A {row.words} has no “{name}”: leave it out.", name)
    for name, allowed in CHOICES.items():
        value = getattr(event, name)
        if value and value not in allowed:
            known = ", ".join(allowed)
            raise EventError(f"{name} “{value}” is not known: use one of {known}.", name)
    if row.is_accident and event.place.casefold() == PAD:
        raise EventError(
            "What came on the pad is no accident: log pee or poop with the place “pad”. If it "
            "missed the pad, write “beside the pad”."
        )
    if any(ml is not None and not 0 <= ml <= 10_000 for ml in (event.ml, event.rest)):
        raise EventError("The amount of water is in millilitres, from 0 to 10000.")
    if event.minutes is not None and not 1 <= event.minutes <= 24 * 60:
        raise EventError("Minutes go from 1 to 1440.")
    if event.dry is not None and event.dry > event.at:
        raise EventError("“Last dry” is later than the accident: give an earlier time.")
    return event


def check_time(event: Event, now: datetime, arrived: datetime) -> Event:
    """Return ``event`` if it happened between the arrival and ``now`` (a minute of grace).

    Raises :class:`EventError` otherwise.
    """
    if minutes_of(event.at) > minutes_of(now) + 1:
        raise EventError("That time is still to come: log it when it has happened.")
    if event.t < minutes_of(arrived) - 1:
        raise EventError(
            "That is before the dog arrived. If the arrival is wrong, correct it in the set-up."
        )
    return event
