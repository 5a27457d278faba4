"""The ways of calling breaks that are compared: the levels, the limit swept, single changes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field

from dogs.life import Span
from dogs.policies import FIXED, RISKS, Board, Policy, Timetable
from dogs.population import Traits

from pottyboard.core.estimate.learning import hold_prior
from pottyboard.core.model import priors
from pottyboard.core.model.events import Event
from pottyboard.core.model.settings import Risk


@dataclass(frozen=True)
class Way:
    """The board at a level, with some of the numbers of ``priors`` changed."""

    risk: Risk = "balanced"
    watches: bool = True
    figures: Mapping[str, float] = field(default_factory=dict)

    def make(self, traits: Traits, days: list[Span], log: list[Event]) -> Policy:
        """Return the policy of one trial."""
        return Board(traits, log, self.risk, watches=self.watches, counts=True)


@dataclass(frozen=True)
class Table(Way):
    """A fixed timetable, to compare with."""

    every: float = 0.0

    def make(self, traits: Traits, days: list[Span], log: list[Event]) -> Policy:
        """Return the policy of one trial."""
        return Timetable(days, self.every)


_NEVER, _MUCH = 1e3, 1e9

TABLES: dict[str, Way] = {f"every {every} min": Table(every=every) for every in FIXED}
LEVELS: dict[str, Way] = {f"board, {risk}": Way(risk) for risk in RISKS}
SWEPT = (0.005, 0.01, 0.02, 0.03, 0.04, 0.06, 0.1, 0.16, 0.24)
LIMITS: dict[str, Way] = {f"{limit:.1%}": Way(figures={"LIMIT_BALANCED": limit}) for limit in SWEPT}
CHANGES: dict[str, Way] = {
    "as it is": Way(),
    "fixed reasons for every dog": Way(figures={"KNOWN_FROM_DAY": _NEVER}),
    "no tally": Way(figures={"TALLY_HAD": _MUCH, "TALLY_PREDICTED": _MUCH}),
    "a narrow shape": Way(figures={"HOLD_SHAPE": 3.5, "HOLD_SHAPE_SPREAD": 0.3}),
    "first days as any day": Way(figures={"FIRST_DAYS_SHARE": 0.0}),
    "ten minutes late": Way(figures={"LATE_CALLS": _MUCH}),
    "nobody watches": Way(watches=False),
}


@contextmanager
def changed(way: Way) -> Iterator[None]:
    """Let the numbers of a way hold for a while."""
    before = {name: getattr(priors, name) for name in way.figures}
    try:
        _set(way.figures)
        yield
    finally:
        _set(before)


def _set(figures: Mapping[str, float]) -> None:
    for name, value in figures.items():
        setattr(priors, name, value)
    if figures:
        hold_prior.cache_clear()
