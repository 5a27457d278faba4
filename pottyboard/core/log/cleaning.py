"""The first ten seconds after an accident, and how its spot is cleaned.

Sources: the interruption and the praise outside, Arizona Humane Society, Re-housetrain your adult
dog, and RSPCA, Toilet training your dog (published); nothing said to the dog afterwards, Arizona
Humane Society (published); an enzyme cleaner and no ammonia, London Vet Clinic advice page
(published); down to the padding, and blocking access to a spot that is used again, common practice,
no source.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from pottyboard.core.model import figures
from pottyboard.core.model.figure import Figure
from pottyboard.core.model.localtime import span_words

_SEEN: Final = ("One quiet ah, no scolding", "Calmly out to the spot", "Praise as it ends there")
_FOUND: Final = (
    "Say nothing to the dog",
    "Call it away, never drag it",
    "Clean: enzyme, no ammonia",
)
_UNSAID: Final = ("No scolding, stay calm", "Going now? Lead it out", "Over? Just clean up")


def first_words(found: bool | None) -> tuple[str, ...]:
    """Return what to do now, in at most three lines of at most 28 characters.

    ``found`` is false for an accident seen happening, true for one found, None while nobody has
    said. Sources: see the module.
    """
    if found is None:
        return _UNSAID
    return _FOUND if found else _SEEN


_BLOT: Final = "blot it up, do not rub"
_DRYING: Final[dict[str, Figure]] = {
    "sealed": figures.DRY_SEALED,
    "wood": figures.DRY_WOOD,
    "carpet": figures.DRY_SOFT,
    "fabric": figures.DRY_SOFT,
    "": figures.DRY_SOFT,
}
_DEPTH: Final[dict[str, str]] = {
    "sealed": "into the joints too",
    "wood": "along the grain and into the gaps, test a hidden corner first",
    "carpet": "as much as went in, down to the padding",
    "fabric": "as much as went in, down to the padding; wash the cover",
    "": "on carpet or a sofa down to the padding",
}


@lru_cache(maxsize=256)
def cleaning_steps(
    surface: str, kind: str = "pee-inside", nth: int = 1, *, at_spot: bool = True
) -> tuple[str, ...]:
    """Return the steps of a cleaning job in order.

    ``surface`` is a code of ``events.SURFACES``, empty where nobody has said; ``kind`` the kind of
    the accident. ``nth`` is which accident in two weeks it is there, ``at_spot`` whether at the
    spot itself or beside it. Sources: see the module; times in ``figures``.
    """
    depth, drying = _DEPTH.get(surface, _DEPTH[""]), _DRYING.get(surface, figures.DRY_SOFT)
    first = _BLOT if kind == "pee-inside" else "lift off what is solid, then blot"
    dries = f"let it dry, about {span_words(drying)}"
    if not surface:
        dries = f"let it dry, up to {span_words(drying)} on anything soft"
    steps = [
        first,
        f"soak with enzyme cleaner, {depth}",
        f"leave it wet {span_words(figures.ENZYME_SOAK)} or as the bottle says, then blot again",
        "no ammonia: to a dog it smells of urine; never mix cleaners",
        f"{dries}; keep the dog off until then",
    ]
    repeat = repeat_words(nth, at_spot=at_spot)
    return (*steps, repeat) if repeat else tuple(steps)


def repeat_words(nth: int, *, at_spot: bool) -> str:
    """Return what to do about accident ``nth`` at a spot, or beside it; empty for the first."""
    if nth < figures.REPEAT_FROM:
        return ""
    where = "here" if at_spot else "in this room"
    return f"accident {nth} {where} in two weeks: clean again, block access to the spot"
