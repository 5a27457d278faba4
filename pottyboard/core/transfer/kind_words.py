"""What people write in a log of their own for the kinds of entry: ``wee``, ``accident (poo)``."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from typing import Any, Final, NamedTuple

from pottyboard.core.model.events import KINDS, PAD, SIGNS, kind_named
from pottyboard.core.transfer.incoming import CellError
from pottyboard.core.transfer.report_words import INDOORS, OTHER_WORDS

_HOUSEHOLD_WORDS: Final = {
    "pees": "pee", "wees": "pee", "weed": "pee", "urine": "pee", "urinated": "pee",
    "poos": "poop", "poops": "poop", "stool": "poop", "wee and poo": "both",
    "no luck": "nothing", "none": "nothing", "no": "nothing",
    "breakfast": "meal", "dinner": "meal", "supper": "meal", "lunch": "meal", "food": "meal",
    "fed breakfast": "meal", "fed dinner": "meal", "feed": "meal", "drank": "water",
    "woke": "up", "woke up": "up", "awake": "up", "nap": "settled", "sleep": "settled",
    "bed": "settled", "bedtime": "settled", "night": "settled", "played": "play",
    "alone": "left", "home": "back", "visitor": "visit", "cleaned": "cleaned", "vet": "vet",
}  # fmt: skip
_SLEEPS: Final = {"nap": "nap", "bed": "night", "bedtime": "night", "night": "night"}
_IN: Final = re.compile(
    r"\b(?:accidents?|indoors?|inside|in the house|in house|puddle|mess)\b", re.IGNORECASE
)
_OUT: Final = re.compile(r"\b(?:outdoors?|outside|out)\b", re.IGNORECASE)
_AND: Final = re.compile(r"\s*(?:[+&/,;]|\band\b|\bwith\b)\s*")
_NO_WORD: Final = re.compile(r"[^\w\s+&/,;]|_")
_INDOOR: Final = {"pee": ("pee-inside",), "poop": ("poop-inside",)}
_BOTH: Final = frozenset({"pee", "poop"})


class Said(NamedTuple):
    """A kind that a cell names, with the details that the words give."""

    kind: str
    details: dict[str, Any]


def _plain(text: str) -> str:
    return " ".join(_NO_WORD.sub(" ", text.casefold()).split())


def _names() -> dict[str, str]:
    names: dict[str, str] = {}
    for kind in KINDS.values():
        for name in (kind.code, kind.words, kind.done):
            names.setdefault(_plain(name), kind.code)
    for words in (OTHER_WORDS, _HOUSEHOLD_WORDS):
        for name, code in words.items():
            names.setdefault(_plain(name), code)
    names.update((sign, "sign") for sign in SIGNS)
    return names


_NAMES: Final = _names()


def read_kinds(text: str, own: Mapping[str, str], *, indoors: bool | None = None) -> list[Said]:
    """Return the kinds that a cell names, ``pee and meal`` two of them.

    ``own`` are the household's words with the codes that they stand for, in plain form (see
    :func:`own_words`); ``indoors`` is what another column says of the place. Raises
    :class:`CellError` with what to write instead.
    """
    words = _plain(text)
    inside = bool(indoors)
    if words not in own and words not in _NAMES:
        inside = inside or bool(_IN.search(words))
        words = " ".join(_OUT.sub(" ", _IN.sub(" ", words)).split())
    parts = [words] if words in own or words in _NAMES else _AND.split(words)
    found = [_said(part, own) for part in parts if part]
    if not found:
        raise CellError("pee or poop? Write pee indoors, poop indoors, or nothing came")
    return _joined(found, inside=inside)


def _said(word: str, own: Mapping[str, str]) -> Said:
    code = own.get(word) or _NAMES.get(word)
    if code is None:
        near = difflib.get_close_matches(word, [*own, *_NAMES], n=1, cutoff=0.75)
        hint = f"Did you mean {near[0]}? If not" if near else "Write a word of log --help"
        raise CellError(f"no kind of entry. {hint}, or say what it stands for: --words")
    details: dict[str, Any] = {}
    if code == "sign" and word in SIGNS:
        details["sign"] = word
    if code == "settled" and word in _SLEEPS:
        details["sleep"] = _SLEEPS[word]
    if code == "meal" and word in ("breakfast", "lunch", "dinner", "supper"):
        details["note"] = word
    return Said(code, details)


def _joined(found: list[Said], *, inside: bool) -> list[Said]:
    """Return the kinds with pee and poop as one outing, or as accidents where ``inside``."""
    codes = [said.kind for said in found]
    if inside:
        parts = [_BOTH if code == "both" else {code} for code in codes]
        return [
            Said(indoor, said.details)
            for said, kinds in zip(found, parts, strict=True)
            for code in sorted(kinds)
            for indoor in _INDOOR.get(code, (code,))
        ]
    if set(codes) >= _BOTH:
        rest = [said for said in found if said.kind not in _BOTH]
        return [Said("both", {}), *rest]
    return found


def own_words(text: str) -> dict[str, str]:
    """Read words with the kinds that they stand for, such as ``tinkle=pee, walkies=nothing``.

    Raises ``EventError`` for an unknown kind, :class:`CellError` for what is no such pair.
    """
    words = {}
    for part in filter(str.strip, text.split(",")):
        word, equals, code = part.partition("=")
        if not (equals and word.strip() and code.strip()):
            raise CellError(f"“{part.strip()}” is no pair: write such as tinkle=pee")
        words[_plain(word)] = kind_named(code.strip()).code
    return words


def is_kind(text: str, own: Mapping[str, str]) -> bool:
    """Whether a cell names kinds of entry."""
    try:
        return bool(read_kinds(text, own))
    except CellError:
        return False


def place_in(text: str) -> tuple[str, bool | None]:
    """Return the place that a cell names, and whether it says indoors or outside and no more."""
    words = _plain(text)
    if words and not _IN.sub("", words).strip():
        return "", True
    if words and not _OUT.sub("", words).strip():
        return "", False
    return (PAD if words in (PAD, "on the pad", "puppy pad", "pee pad") else text), None


def misplaced(kind: str, place: str, *, inside: bool | None) -> str:
    """Return what does not fit between an entry and its place, in words; empty if all is well."""
    row = KINDS[kind]
    if row.is_accident and inside is False:
        return f"outside? Then it is no accident: write {row.words.split()[0]}"
    if row.is_outing and place != PAD and (inside or INDOORS.search(place)):
        return "indoors? Then write pee indoors or poop indoors"
    return ""
