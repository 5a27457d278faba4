"""The rules about health notes: what somebody saw and logged.

Each takes a look at the log and the window of its row in minutes, and yields the marks that raise
its warning, in order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from pottyboard.core.health.health_views import GRAVE, Level
from pottyboard.core.health.window import Look, Mark
from pottyboard.core.model import figures
from pottyboard.core.model.describe import FINDING_WORDS
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes

Rule = Callable[[Look, Minutes], Iterator[Mark]]

_NERVES = frozenset({"loose-stool", "off-food", "listless"})
"""Signs that a dog's first days in a new home may bring by themselves."""
_SAME_DAY = frozenset({"loose-stool", "vomiting"})
"""Signs with which a toy dog or a senior waits for no second day."""


def noted(finding: str, level: Level, with_others: Level | None = None) -> Rule:
    """Return the rule for a finding that counts at once; signs near it make it worse.

    ``with_others`` is its level where another sign comes with it.
    """

    def rule(look: Look, window: Minutes) -> Iterator[Mark]:
        own = [note for note in look.notes if note.finding == finding]
        for note in look.notes if own else ():
            before = look.lately(own, note.t, window)
            other = note.finding != finding
            if not before or (other and note.t - before[-1].t > figures.TOGETHER):
                continue
            others = beside(look, finding, note.t)
            because = and_others(look, f"{FINDING_WORDS[finding]}: {look.whens(before)}", others)
            found = (with_others or level) if others else level
            yield Mark(note.t, found, because, len(before) + len(kinds_of(others)))

    return rule


def straining(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield straining: *now* until a normal pee comes, and *today* from then on."""
    own = [note for note in look.notes if note.finding == "straining"]
    normal = [pee.t for pee in look.pees if _is_normal(pee)] if own else []
    for mark in noted("straining", "now")(look, window):
        last = look.lately(own, mark.at, window)[-1].t
        passed = next((t for t in normal if t > last), None)
        if passed is None:
            yield mark
            continue
        if mark.at < passed:
            yield mark._replace(until=passed)
        if not any(last <= vet <= passed for vet in look.vets):
            at = max(mark.at, passed)
            because = f"{mark.because}; a normal pee since, {look.when(passed)}"
            yield Mark(at, "today", because, mark.grade, at + figures.SIGN_STANDS * 1440)


def _is_normal(pee: Event) -> bool:
    """Whether a pee was no small one; one indoors only where somebody noted how much it was."""
    return pee.amount in ("usual", "large") or (pee.row.is_outing and not pee.amount)


def lasting(finding: str, *rules: Rule, again: float = float("inf")) -> Rule:
    """Return the rule for a finding that often passes: *soon* once it lasts or comes with others.

    It also counts with the marks of ``rules``, and once it was noted ``again`` times in a day. A
    toy dog or a senior does not wait with it where it loses water.
    """

    def rule(look: Look, window: Minutes) -> Iterator[Mark]:
        own = [note for note in look.notes if note.finding == finding]
        if not own:
            return
        marks = [
            mark for other in rules for mark in other(look, figures.TOGETHER) if mark.level in GRAVE
        ]
        signs = sorted({*(note.t for note in look.notes), *(mark.at for mark in marks)})
        same_day = finding in _SAME_DAY and look.is_frail
        for at in signs:
            before = look.lately(own, at, window)
            if not before or (at != before[-1].t and at - before[-1].t > figures.TOGETHER):
                continue
            noted_too = beside(look, finding, at)
            many = len(kinds_of(noted_too)) + 1 >= figures.SIGNS_NO_NERVES
            others = [n for n in noted_too if many or _counts(look, finding, n)]
            near = [mark for mark in marks if 0 <= at - mark.at <= figures.TOGETHER]
            lasted = at == before[-1].t and at - _run(before)[0].t >= figures.LASTS
            repeated = len(look.lately(own, at, 1440)) >= again
            soon = lasted or repeated or bool(others) or bool(near)
            fresh = at >= look.settled_in and at == before[-1].t
            if not (soon or same_day or fresh):
                continue
            level: Level = "today" if same_day else "soon" if soon else "watch"
            because = and_others(look, f"{FINDING_WORDS[finding]}: {look.whens(before)}", others)
            because = "; ".join(dict.fromkeys([because, *(mark.because for mark in near[-1:])]))
            grade = len(before) + len(kinds_of(others)) + bool(near)
            yield Mark(at, level, because, grade)

    return rule


def _run(notes: Sequence[Event]) -> Sequence[Event]:
    """Return the notes at the end of ``notes`` that follow each other within two days."""
    first = len(notes) - 1
    while first and notes[first].t - notes[first - 1].t <= 2 * figures.LASTS:
        first -= 1
    return notes[first:]


def beside(look: Look, finding: str, at: Minutes) -> list[Event]:
    """Return the other signs noted in the day up to ``at``."""
    return [n for n in look.lately(look.notes, at, figures.TOGETHER) if n.finding != finding]


def _counts(look: Look, finding: str, other: Event) -> bool:
    """Whether a sign counts with ``finding``: two of nerves in the first days do not."""
    nerves = finding in _NERVES and other.finding in _NERVES
    return not (nerves and other.t < look.settled_in)


def kinds_of(notes: Sequence[Event]) -> set[str]:
    """Return the different findings of some notes."""
    return {note.finding for note in notes}


def and_others(look: Look, because: str, others: Sequence[Event]) -> str:
    """Return what raised a warning, and when each other sign beside it was noted last."""
    last = {note.finding: note for note in others}
    with_it = [f"{FINDING_WORDS[finding]} {look.when(n.t)}" for finding, n in last.items()]
    return f"{because}; with {', '.join(with_it)}" if with_it else because
