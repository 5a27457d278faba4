"""The rules about patterns: what a vet or a qualified behaviourist should hear of.

Nerves are common in a dog's first days with a new household (a PLoS One study of 2023 saw signs in
92.6 % of 99 adopted dogs at some time), so nothing of days 1 to 3 counts here. Each rule takes a
look at the log and the window of its row in minutes, and yields the marks that raise its warning.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pottyboard.core.engine.causes import left_at
from pottyboard.core.engine.days import Accident
from pottyboard.core.health.window import Absence, Look, Mark
from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import Minutes, span_words

_UNEASY = frozenset({"pacing", "whining"})


def _settled(look: Look, events: Sequence[Event]) -> list[Event]:
    return [event for event in events if event.t >= look.settled_in]


def _gathered(
    look: Look, such: Sequence[Event], window: Minutes, many: float, what: str
) -> Iterator[Mark]:
    """Yield each of ``such`` that makes ``many`` within ``window``."""
    for event in such:
        before = look.lately(such, event.t, window, vet=False)
        if len(before) >= many:
            yield Mark(event.t, "ask", f"{what}: {look.whens(before)}", len(before))


def marking(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield small pees against upright things, once there are several."""
    such = _settled(look, look.caused_by("marking"))
    yield from _gathered(look, such, window, figures.MARKINGS, "small pees on upright things")


def greeting(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield pees at a greeting, once there are several."""
    such = _settled(look, look.caused_by("greeting"))
    for mark in _gathered(look, such, window, figures.GREETINGS, "peed at a greeting"):
        yield Mark(mark.at, "watch", mark.because, mark.grade)


def nights(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the accidents that make several wet nights of the last ones."""
    such = _settled(look, look.wet_nights)
    yield from _gathered(look, such, window, figures.NIGHTS_WET, "an accident in the night")


def pad_only(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield the pees on the pad, where outings outside bring none."""
    on_pad = [e for e in look.outings if e.on_pad and "pee" in e.row.resets]
    for pee in _settled(look, on_pad):
        near = look.lately(look.outings, pee.t, window, vet=False)
        outside = [e for e in near if not e.on_pad]
        count = sum(e.on_pad and "pee" in e.row.resets for e in near)
        bare = len(outside) >= figures.PAD_OUTINGS and count >= figures.PAD_PEES
        if bare and not any("pee" in e.row.resets for e in outside):
            because = (
                f"{count} pees on the pad and none outside in {span_words(window)}, "
                f"though {len(outside)} outings are logged"
            )
            yield Mark(pee.t, "ask", because, count // figures.PAD_PEES)


# --- Alone ----------------------------------------------------------------------------------------


def alone(look: Look, window: Minutes) -> Iterator[Mark]:
    """Yield accidents soon after leaving, with distress, where none happens in company.

    A puddle that is only found on return says nothing of when it came: it counts where distress
    was noted of that same time alone, and the time was not so long that it explains the puddle. One
    seen after a long absence says nothing either way. The rule refers and names no cause: signs are
    common in the first weeks.
    """
    here = [a for a in look.accidents if not a.why.is_other and a.event.t >= look.settled_in]
    told = {a.event.t: how for a in here if (how := _soon(look, a) or _on_return(look, a))}
    company = [a.event for a in here if a.event.t not in told and not _was_alone(look, a)]
    alone = [a.event for a in here if a.event.t in told]
    for accident in alone:
        near = look.lately(alone, accident.t, window, vet=False)
        distress = _distress(look, accident.t, window)
        if (
            distress is None
            or len(near) < figures.ALONE_ACCIDENTS
            or any(abs(other.t - accident.t) <= window for other in company)
        ):
            continue
        because = (
            f"{len(near)} accidents, only when alone, {', '.join(told[a.t] for a in near)}; "
            f"distress {look.when(distress)}"
        )
        yield Mark(max(accident.t, distress), "ask", because, len(near))


def _soon(look: Look, accident: Accident) -> str:
    """Return how soon after leaving an accident came, empty if it was not soon or not alone."""
    left = left_at(accident.circumstances)
    return "" if left is None else f"{span_words(accident.event.t - left)} after leaving"


def _on_return(look: Look, accident: Accident) -> str:
    """Return after how long alone an accident was found, with distress; empty if it was not so."""
    away = _away(look, accident)
    if away is None or away.back is None or accident.event.found is False:
        return ""
    if away.back - away.left > figures.ALONE_MOST:
        return ""
    noted = _distress(look, away.back, away.back - away.left + figures.ALONE_SOON)
    if noted is None:
        return ""
    return f"found after {span_words(away.back - away.left)} alone"


def _away(look: Look, accident: Accident) -> Absence | None:
    """Return the time alone in or right after which an accident was found, None if there is none.

    The floor was not last seen dry after it, and nobody said that the dog had company.
    """
    event, earliest = accident.event, accident.circumstances.earliest
    if event.alone is False:
        return None
    for away in reversed(look.absences):
        if away.left <= event.t <= (event.t if away.back is None else away.back + figures.LATE):
            after = away.back is not None and earliest is not None and earliest > away.back
            return None if after else away
    return None


def _was_alone(look: Look, accident: Accident) -> bool:
    """Whether the dog was or may have been alone when it happened, as far as the log says."""
    if accident.event.alone is not None:
        return accident.event.alone
    return _away(look, accident) is not None


def _is_alone(look: Look, at: Minutes) -> bool:
    return any(a.left <= at and (a.back is None or at <= a.back) for a in look.absences)


def _distress(look: Look, at: Minutes, window: Minutes) -> Minutes | None:
    """Return when distress at being left was last logged around ``at``; None if never."""
    found = [e.t for e in look.events if e.kind == "health" and e.finding == "distress"]
    noted = [away for away in look.absences if away.back is not None and away.note]
    if noted:
        # Few logs have such a note, and the practice of being alone is much to load for none.
        from pottyboard.core.away.practice import how_it_went

        found += [a.back for a in noted if a.back and how_it_went(a.note) == "distressed"]
    found += [e.t for e in look.of_kind["sign"] if e.sign in _UNEASY and _is_alone(look, e.t)]
    near = [t for t in found if look.settled_in <= t and abs(t - at) <= window]
    return max(near, default=None)
