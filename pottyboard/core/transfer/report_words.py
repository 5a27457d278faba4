"""The words of a visit report: which kind of entry a bit of text names, and what it adds.

Only what cannot be meant otherwise is taken: a kind by its words or code, then an amount, a place,
a manner, or anything at all after a dash, a colon or in brackets. ``12:10 pee on the rug`` is an
accident and no outing, so it is asked back.
"""

from __future__ import annotations

import difflib
import re
from typing import Any, Final

from msgspec import Struct

from pottyboard.core.model import figures
from pottyboard.core.model.events import ANSWERS, KINDS, PAD, SIGNS, Kind

KINDS_SHORT: Final = "pee, poop, pee and poop, nothing came, water, meal, pee indoors, poop indoors"

_HOUSEHOLD: Final = frozenset(
    {
        "left",
        "back",
        "duty",
        "interval",
        "vet",
        "round",
        "routine",
        "noted",
        "told",
        "called-off",
        "left-so",
        *ANSWERS,
    }
)
"""Kinds that the household logs itself: a helper who "left" has not left the dog of the house."""
_FREE: Final = frozenset({"note", "health"})
"""Kinds that any words may follow."""

OTHER_WORDS: Final = {
    "peed": "pee", "wee": "pee", "pooped": "poop", "poo": "poop", "pooed": "poop",
    "drink": "water", "ate": "meal", "fed": "meal", "slept": "settled", "asleep": "settled",
    "clean up": "cleaned", "peed and pooped": "both", "nothing happened": "nothing",
    "pee inside": "pee-inside", "peed inside": "pee-inside", "peed indoors": "pee-inside",
    "poop inside": "poop-inside", "pooped inside": "poop-inside", "pooped indoors": "poop-inside",
}  # fmt: skip
"""Other plain words for some kinds."""


def _names() -> dict[str, Kind]:
    names: dict[str, Kind] = {}
    for kind in KINDS.values():
        if kind.code not in _HOUSEHOLD:
            for name in (kind.code, kind.code.replace("-", " "), kind.words, kind.done):
                names.setdefault(name, kind)
    names.update((name, KINDS[code]) for name, code in OTHER_WORDS.items())
    names.update((sign, KINDS["sign"]) for sign in SIGNS if sign != "door")
    return names


_NAMES: Final = _names()
_AND: Final = r"(?:\s*[+&/]\s*|\s+and\s+)"
_NAMED: Final = re.compile(
    r"(?:(?P<how>found|saw)\s+)?(?P<name>"
    + "|".join(
        re.escape(name).replace(r"\ and\ ", _AND).replace(r"\ ", r"\s+")
        for name in sorted(_NAMES, key=len, reverse=True)
    )
    + r")(?!\w)",
    re.IGNORECASE,
)
_JOIN: Final = re.compile(_AND, re.IGNORECASE)
_ML: Final = re.compile(r"(\d{1,5}(?:[.,]\d+)?)\s*(ml|dl|l|litres?|liters?)\b", re.IGNORECASE)
_ML_EACH: Final = {"m": 1.0, "d": 100.0, "l": 1000.0}
_PLACE: Final = re.compile(
    r"(?:in|on|at|by|under|behind)\s+(?:the\s+)?([^,;]{1,60})", re.IGNORECASE
)
_NOTE: Final = re.compile(r"\((?P<inside>[^()]*)\)|[-–—:]\s*(?P<after>.*)")
_MANNER: Final = re.compile(
    r"(?:(?:a|very|quite|at|but|the|and|once|lot|lots|little|bit|small|big|large|long|short|quick|"
    r"good|normal|soft|firm|hard|loose|runny|dark|light|again|twice|outside|spot|right|away|both|"
    r"times|all|calm)\s*)+",
    re.IGNORECASE,
)
INDOORS: Final = re.compile(
    r"\b(?:accident|puddle|mess|indoors|inside|floor|carpet|rug|mat|sofa|couch|bed|crate|hall|"
    r"hallway|kitchen|bathroom|bedroom|room|stairs|door|house|home)\b",
    re.IGNORECASE,
)
_HAPPENED: Final = re.compile(
    r"\b(?:accident|puddle|mess|wet|peed|pooped|weed|pooed|soiled)\b", re.IGNORECASE
)
_NOT: Final = re.compile(r"\b(?:no|not|didn['’]?t|without|none|clean|dry)\b", re.IGNORECASE)
_TOO_LONG_TO_GUESS: Final = 40


class ReportError(ValueError):
    """A bit of a report that cannot be read, with what to write instead."""


class Named(Struct, frozen=True):
    """A kind of entry with the fields of an ``Event`` that it carries."""

    kind: Kind
    details: dict[str, Any]


def named_in(words: str) -> tuple[Named, ...]:
    """Return the kinds that a bit names (``pee and water`` names two); empty if it names none.

    Raises :class:`ReportError` where what follows a kind could change what is meant.
    """
    found = _NAMED.match(words)
    if found is None:
        return ()
    name = _JOIN.sub(" and ", " ".join(found["name"].casefold().split()))
    kind = _NAMES[name]
    how = (found["how"] or "").casefold()
    if how and not kind.is_accident:
        return ()
    rest = words[found.end() :]
    joined = _JOIN.match(rest)
    if joined:
        others = named_in(rest[joined.end() :])
        if others:
            return (Named(kind, _details(kind, "", name, how)), *others)
    return (Named(kind, _details(kind, rest.strip(" .!"), name, how)),)


def _details(kind: Kind, rest: str, name: str, how: str) -> dict[str, Any]:
    """Return the fields that ``rest`` gives; an accident was found unless it was seen."""
    details: dict[str, Any] = {}
    if kind.is_accident:
        details.update(found=how != "saw", alone=how != "saw")
    if kind.code == "sign":
        sign = name if name in SIGNS else rest.casefold()
        if sign in SIGNS:
            details["sign"] = sign
            rest = "" if name not in SIGNS else rest
    amount = _ML.match(rest) if "ml" in kind.carries else None
    if amount:
        number = float(amount[1].replace(",", "."))
        details["ml"] = number * _ML_EACH[amount[2][0].casefold()]
        rest = rest[amount.end() :].strip()
    if rest:
        details.update(_place_or_note(kind, rest, name))
    return details


def _place_or_note(kind: Kind, rest: str, name: str) -> dict[str, Any]:
    note = _NOTE.fullmatch(rest)
    if note:
        return {"note": (note["inside"] or note["after"] or "").strip()}
    if kind.code in _FREE:
        return {"note": rest}
    place = _PLACE.fullmatch(rest)
    if "place" in kind.carries and (rest.casefold() == PAD or place):
        where = PAD if place is None or place[1].casefold() == PAD else place[1]
        if kind.is_outing and INDOORS.search(where):
            raise ReportError(f"indoors? Then write {_indoors(kind)} in place of {name}")
        if place is None or not _MANNER.fullmatch(place[1]):
            return {"place": where}
    if kind.is_outing or kind.is_accident:
        if kind.is_outing and INDOORS.search(rest):
            raise ReportError(f"indoors? Then write {_indoors(kind)} in place of {name}")
        if _MANNER.fullmatch(rest):
            return {"note": rest}
    raise ReportError(
        f"if that is {name}, put a comma after it; if it is something else, write “note” before it"
    )


def _indoors(kind: Kind) -> str:
    return {"pee": "pee indoors", "poop": "poop indoors"}.get(
        kind.code, "pee indoors, poop indoors"
    )


def note_of(words: str, *, timed: bool) -> Named:
    """Return words that name no kind as a note; raise :class:`ReportError` if they might mean one.

    Words with a time of their own are meant as an entry, and are asked back.
    """
    near = ""
    if timed and words.split(" ")[0].casefold() in _HOUSEHOLD:
        raise ReportError("the household logs that itself: for a note, write “note” before it")
    if len(words) <= _TOO_LONG_TO_GUESS:
        cutoff = 0.6 if timed else 0.75
        near = next(iter(difflib.get_close_matches(words.casefold(), _NAMES, 1, cutoff)), "")
    if near:
        raise ReportError(f"did you mean {near}? For a note, write “note” before it")
    if timed:
        raise ReportError(f"no kind of entry: write {KINDS_SHORT}, or “note” and your words")
    if _HAPPENED.search(words) and not _NOT.search(words):
        raise ReportError(
            "if it went indoors, write pee indoors or poop indoors; if not, write “note” before it"
        )
    if len(words) > figures.REPORT_NOTE_MOST:
        raise ReportError(f"too long for one note: at most {figures.REPORT_NOTE_MOST:g} characters")
    return Named(KINDS["note"], {"note": words})
