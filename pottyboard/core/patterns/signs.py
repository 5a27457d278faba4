"""Which signs came before a success or an accident, and how long before."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from statistics import median

from pottyboard.core.model import figures
from pottyboard.core.model.events import Event
from pottyboard.core.patterns.pattern_views import Pattern, SignTally
from pottyboard.core.statistics.proportion import wilson

_COUNTED = "a count, not a test"
_NAMES = {"door": "Going to the door", "": "A signal without a name"}


def sign_tallies(events: Sequence[Event]) -> tuple[SignTally, ...]:
    """Return what followed each sign within half an hour, the sign shown most often first.

    ``events`` are sorted. What is next counts, a success outside or an accident that was seen; one
    only found may have come before the sign.
    """
    shown: dict[str, list[Event | None]] = {}
    leads: dict[tuple[str, bool], list[float]] = {}
    for index, event in enumerate(events):
        if event.kind != "sign":
            continue
        follows = _announced(events, index)
        shown.setdefault(event.sign, []).append(follows)
        if follows is not None:
            leads.setdefault((event.sign, follows.row.is_accident), []).append(follows.t - event.t)
    tallies = [
        SignTally(
            sign,
            len(all_of_it),
            len(leads.get((sign, False), ())),
            len(leads.get((sign, True), ())),
            _range(leads.get((sign, False), ())),
            _range(leads.get((sign, True), ())),
        )
        for sign, all_of_it in shown.items()
    ]
    return tuple(sorted(tallies, key=lambda tally: (-tally.shown, tally.sign)))


def _announced(events: Sequence[Event], index: int) -> Event | None:
    """Return the success or the accident that came within reach of the sign at ``index``."""
    until = events[index].t + figures.SIGN_LEADS
    for event in events[index + 1 :]:
        if event.t > until:
            return None
        if (event.went_out and event.row.is_success) or (
            event.row.is_accident and event.found is False
        ):
            return event
    return None


def _range(minutes: Sequence[float]) -> tuple[float, float, float] | None:
    return (min(minutes), median(minutes), max(minutes)) if minutes else None


def signs_told(tallies: Sequence[SignTally], events: Sequence[Event]) -> Iterator[Pattern]:
    """Yield what followed each sign as sentences, and how many accidents a sign announced."""
    for tally in tallies:
        if tally.shown >= figures.SIGNS_TO_TELL:
            yield Pattern(
                "sign", _words(tally), _COUNTED, tally.before_success, tally.shown, tally.sign,
                wilson(tally.before_success, tally.shown),
            )  # fmt: skip
    seen = [event for event in events if event.row.is_accident and event.found is False]
    if len(seen) >= figures.SIGNS_TO_TELL:
        signs = [event.t for event in events if event.kind == "sign"]
        told = sum(_shortly_after(signs, event.t) for event in seen)
        words = (
            f"{told} of {len(seen)} accidents that were seen came within "
            f"{figures.SIGN_LEADS:g} min of a signal in the log."
        )
        yield Pattern("sign", words, _COUNTED, told, len(seen), "", wilson(told, len(seen)))


def _shortly_after(signs: Sequence[float], t: float) -> bool:
    index = bisect_right(signs, t) - 1
    return index >= 0 and t - signs[index] <= figures.SIGN_LEADS


def _words(tally: SignTally) -> str:
    name = _NAMES.get(tally.sign, tally.sign.capitalize())
    words = f"{name} was seen {_times(tally.shown)}."
    followed = [
        f"{_times(number)} by {what} (typically after {lead[1]:.0f} min)"
        for what, number, lead in (
            ("a success outside", tally.before_success, tally.lead_success),
            ("an accident", tally.before_accident, tally.lead_accident),
        )
        if lead is not None
    ]
    if not followed:
        return f"{words} Within {figures.SIGN_LEADS:g} min nothing followed."
    return f"{words} Within {figures.SIGN_LEADS:g} min it was followed {' and '.join(followed)}."


def _times(number: int) -> str:
    return {1: "once", 2: "twice"}.get(number, f"{number} times")
