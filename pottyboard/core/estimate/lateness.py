"""How late this household keeps its breaks, by the hour of the day.

Cooking, the school run and a call come at the same hours every day, and so do late breaks. What the
estimate calls it calls so much ahead that the outing still comes within the household's limit.
"""

from __future__ import annotations

from collections.abc import Iterable
from operator import add

from msgspec import Struct

from pottyboard.core.model import priors

HOURS = 24
_NONE = (0.0,) * HOURS
_BESIDE = 0.5
"""What an hour tells of the hours beside it."""


class Lateness(Struct, frozen=True):
    """The breaks that a clock called and an outing answered, by the local hour of the call.

    ``calls`` counts them, ``late`` sums the minutes from the call to the outing; older days weigh
    less.
    """

    calls: tuple[float, ...] = _NONE
    late: tuple[float, ...] = _NONE

    @classmethod
    def of(cls, answers: Iterable[tuple[int, float]]) -> Lateness:
        """Return what some answers show: each a local hour (0 to 23) and the minutes late.

        One very late outing says little of the others, and counts no more than an hour.
        """
        calls, late = [0.0] * HOURS, [0.0] * HOURS
        for hour, minutes in answers:
            calls[hour] += 1
            late[hour] += min(max(0.0, minutes), float(priors.LATE_COUNTED))
        return cls(tuple(calls), tuple(late))

    def __add__(self, other: Lateness) -> Lateness:
        """Return both together."""
        return Lateness(
            tuple(map(add, self.calls, other.calls)), tuple(map(add, self.late, other.late))
        )

    def a_day_older(self) -> Lateness:
        """Return the same after one more day."""
        keep = float(priors.LATE_KEPT_A_DAY)
        return Lateness(
            tuple([one * keep for one in self.calls]), tuple([one * keep for one in self.late])
        )

    @property
    def usual(self) -> float:
        """How many minutes late this household is over the day, drawn to what most are."""
        return _mean(sum(self.calls), sum(self.late), priors.KEPT_LATE, priors.LATE_CALLS)

    def at(self, hour: int) -> float:
        """Return how many minutes late an outing has to be expected in a local hour.

        It is drawn to what is usual over the day while the hour has few calls, and never over
        ``priors.LATE_MOST``: later than that is for the household to mend.
        """
        calls, late = (self._around(values, hour) for values in (self.calls, self.late))
        expected = _mean(calls, late, self.usual, priors.LATE_CALLS_AN_HOUR)
        return min(expected, float(priors.LATE_MOST))

    def _around(self, values: tuple[float, ...], hour: int) -> float:
        beside = values[hour - 1] + values[(hour + 1) % HOURS]
        return values[hour] + _BESIDE * beside


def _mean(calls: float, late: float, before: float, weight: float) -> float:
    """Return the mean of the minutes late, with ``weight`` calls that were ``before`` late.

    It is the mean of the posterior for exponential waits under an inverse gamma prior of shape
    ``weight`` + 1 and scale ``weight`` * ``before`` (Gelman et al., Bayesian Data Analysis, 3rd
    ed., section 2.6).
    """
    return (weight * before + late) / (weight + calls)


NO_LATENESS = Lateness()
