"""What to believe of a waiting time: from a pee, or from a meal, to when this dog has to go.

The waiting time T (minutes) is Weibull: P(T > t) = 2 ** -((t / median) ** shape). Its hazard keeps
rising while the dog waits, as a filling bladder asks for, and so it carries on sensibly past what
was ever tried; the lognormal's and the log-logistic's fall again after a peak, and would call a dog
that is long overdue safe. Median and shape are uncertain, each on a fixed grid, so that a belief is
sums all the way: no sampling, no iteration, the same answer each time.

Two questions are answered from the same grid:

* *How long does this dog hold?* (``median``, ``range80``) is the full posterior: the log judges the
  shape too. With the shape fixed, breaks every two or three hours would give a narrow range in the
  wrong place, since they show only the beginning of the curve.
* *How likely is an accident by then?* (``chance_by``, ``latest``) lets the log judge the median
  under every shape, but leaves the weights of the shapes as they were given. Curves of different
  shapes cross: a long dry hold beside an early accident speaks for a blunt shape, and in the full
  posterior a good hold would *raise* the risk of the next minutes. Under one shape everything is
  ordered by the median, and so for the average over them these hold exactly, for every time and
  after any time already waited:

  - one more dry hold, or a longer one, never raises the chance of an accident;
  - an accident in the place of a dry hold of that length, or in the middle of a longer one, never
    lowers it; nor does one found where only "dry until then" was known;
  - an accident earlier in its wait never gives a lower chance than a later one.

  (An accident from nowhere may lower it: one after six hours says above all that the dog held six.)
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import cached_property, lru_cache
from operator import add, mul
from typing import Self

from msgspec import Struct

from pottyboard.core.statistics.survival import CensoredTime

__all__ = [
    "CensoredTime",
    "ConditionalSurvival",
    "Likelihood",
    "Posterior",
    "Prior",
    "posterior_of",
]

LEAST_MEDIAN, MOST_MEDIAN, MEDIANS = 15.0, 1920.0, 121
"""The medians of the grid: from a quarter of an hour to 32 hours, each 4 % over the last."""
LOG_STEP = math.log(MOST_MEDIAN / LEAST_MEDIAN) / (MEDIANS - 1)
LOG_MEDIANS = tuple(math.log(LEAST_MEDIAN) + LOG_STEP * place for place in range(MEDIANS))

SHAPES = tuple(3.5 * 1.32**place for place in range(-3, 4))
"""The shapes of the grid, 1.5 to 8; none under 1, where the ordering above would break."""
RATES = tuple(tuple(math.log(2) * math.exp(-k * log) for log in LOG_MEDIANS) for k in SHAPES)
"""For each shape and median ln 2 / median**shape: the hazard up to t is this times t**shape."""

EACH = (1,) * len(SHAPES)
"""Every median of the grid under every shape."""
FEWER = tuple(max(1, min(6, round(14 / shape))) for shape in SHAPES)
"""Every so many-th median under each shape: a sum over a smooth bell needs no more points than
this, and a blunt shape fewer than a sharp one. Over made logs it is within 0.2 % of the whole."""

SHORTEST = 1.0
"""Minutes: the log is kept to the minute, so nothing happens sooner, and no span is narrower."""
LONGEST = 1440.0
"""Minutes: no dog is seen to hold longer than a day; such a gap is a gap in the log."""
FOREVER = 1e6
"""Minutes, about two years: later instants are taken as this, so that powers stay finite."""
FADED = 0.01
"""A span's weight under which it is dropped, so that a year of days stays small."""
LEAST = 1e-8
"""A median's weight under which a conditional survival leaves it out."""
TINY = 1e-300
SECOND = 1 / 60


class Prior(Struct, frozen=True):
    """What is believed before the log speaks.

    ``median`` is the middle guess of the dog's median wait in minutes, and ``shape`` that of how
    sharply the risk rises within one wait (3.5: single waits scatter by about 30 %; higher is
    sharper). ``median_spread`` and ``shape_spread`` are the standard deviations of their logarithms
    (0.3: two dogs in three lie within about 30 %; infinite: nothing is known). Raises ValueError
    for a middle guess off the grid or a spread that is not positive.
    """

    median: float
    median_spread: float
    shape: float
    shape_spread: float

    def __post_init__(self) -> None:
        """Refuse what the grid cannot hold; NaN fails every comparison and is refused with it."""
        if not (LEAST_MEDIAN <= self.median <= MOST_MEDIAN and self.median_spread > 0):
            raise ValueError(f"no median to begin with: {self}")
        if not (SHAPES[0] <= self.shape <= SHAPES[-1] and self.shape_spread > 0):
            raise ValueError(f"no shape to begin with: {self}")

    @lru_cache(maxsize=64)  # noqa: B019 - a prior is a small value, and there are few
    def median_logs(self) -> tuple[float, ...]:
        """Return the logarithm of each median's prior weight, up to a constant."""
        centre = math.log(self.median)
        return tuple([-0.5 * ((log - centre) / self.median_spread) ** 2 for log in LOG_MEDIANS])

    @lru_cache(maxsize=64)  # noqa: B019 - see above
    def shape_weights(self) -> tuple[float, ...]:
        """Return each shape's prior weight; they sum to one."""
        logs = [-0.5 * (math.log(k / self.shape) / self.shape_spread) ** 2 for k in SHAPES]
        return tuple(_normalised(logs))


class Likelihood(Struct, frozen=True):
    """What a part of the log says about a waiting time: small, and made to be added.

    Add days with ``+``; let them fade with :meth:`scaled`. ``dry`` and ``accidents`` are the
    weights seen of each; ``cut`` counts the waits longer than a day, taken as one day. The rest is
    what the likelihood needs: ``waited``, the sum of low**shape for each shape; the weight of exact
    times and the sum of their logarithms; and the spans (low, high, weight).
    """

    dry: float = 0.0
    accidents: float = 0.0
    cut: int = 0
    waited: tuple[float, ...] = (0.0,) * len(SHAPES)
    exact: float = 0.0
    exact_logs: float = 0.0
    spans: tuple[tuple[float, float, float], ...] = ()

    @classmethod
    def of(cls, observations: Iterable[CensoredTime]) -> Self:
        """Return the evidence of some observations; their order does not matter.

        A wait longer than a day is cut to "at least a day" and counted in ``cut``; an accident
        sooner than a minute counts at the minute.
        """
        dry: list[float] = []
        waits: list[tuple[float, float]] = []
        exact: list[tuple[float, float]] = []
        spans: list[tuple[float, float, float]] = []
        cut = 0
        for seen in observations:
            low, high, weight = seen.low, seen.high, seen.weight
            if low > LONGEST:
                low, high, cut = LONGEST, math.inf, cut + 1
            if high == math.inf:
                dry.append(weight)
            elif high - low < SHORTEST:
                low = max(high, SHORTEST)
                exact.append((low, weight))
            else:
                spans.append((low, min(high, FOREVER), weight))
            waits.append((low, weight))
        return cls(
            math.fsum(dry),
            math.fsum([weight for _, weight in exact] + [weight for _, _, weight in spans]),
            cut,
            tuple([math.fsum([weight * low**k for low, weight in waits]) for k in SHAPES]),
            math.fsum([weight for _, weight in exact]),
            math.fsum([weight * math.log(time) for time, weight in exact]),
            tuple(sorted(spans)),
        )

    def __add__(self, other: Likelihood) -> Likelihood:
        """Return both together."""
        return Likelihood(
            self.dry + other.dry,
            self.accidents + other.accidents,
            self.cut + other.cut,
            tuple(map(add, self.waited, other.waited)),
            self.exact + other.exact,
            self.exact_logs + other.exact_logs,
            self.spans + other.spans,
        )

    def scaled(self, factor: float) -> Likelihood:
        """Return the same with every weight times ``factor``, 0 to 1; ValueError otherwise.

        A span that has faded says from then on only that it was dry until its beginning.
        """
        if not 0 <= factor <= 1:
            raise ValueError(f"evidence cannot be scaled by {factor}")
        return Likelihood(
            self.dry * factor,
            self.accidents * factor,
            self.cut,
            tuple([power * factor for power in self.waited]),
            self.exact * factor,
            self.exact_logs * factor,
            tuple([(a, b, w * factor) for a, b, w in self.spans if w * factor >= FADED]),
        )

    def logs(self, place: int) -> list[float]:
        """Return the log-likelihood at each median under the shape in that place of the grid."""
        shape, waited = SHAPES[place], self.waited[place]
        level = self.exact * math.log(shape) + (shape - 1) * self.exact_logs
        slope = self.exact * shape
        logs = [
            level - slope * log - rate * waited
            for log, rate in zip(LOG_MEDIANS, RATES[place], strict=True)
        ]
        if self.spans:
            weights = [weight for _, _, weight in self.spans]
            ended = [_span_logs(place, low, high) for low, high, _ in self.spans]
            for median, ends in enumerate(zip(*ended, strict=True)):
                logs[median] += sum(map(mul, weights, ends))
        return logs


@lru_cache(maxsize=2048)
def _span_logs(place: int, low: float, high: float) -> tuple[float, ...]:
    """Return the log-chance, at each median, that a wait past ``low`` ends by ``high``.

    P(low < T <= high) = P(T > low) * (1 - exp(-rate * (high**shape - low**shape))): this is the
    second factor; the first is a wait of ``low`` like any other.
    """
    width = high ** SHAPES[place] - low ** SHAPES[place]
    return tuple([math.log(-math.expm1(-rate * width)) for rate in RATES[place]])


class ConditionalSurvival(Struct, frozen=True):
    """The chances of one wait, ``waited`` minutes of which are over.

    ``curves`` holds for each shape: the shape, ``waited``**shape, and the rates still in play with
    their weights, which sum to one over all curves.
    """

    waited: float
    curves: tuple[tuple[float, float, tuple[tuple[float, float], ...]], ...]

    def chance_by(self, time: float) -> float:
        """Return P(T <= time | T > waited), 0 up to ``waited``; ValueError for NaN."""
        time = _minutes(time)
        if time <= self.waited:
            return 0.0
        # Summed as what is gone, not as one less what is left: small chances stay exact.
        gone = 0.0
        for shape, start, rates in self.curves:
            more = start - time**shape
            gone -= sum([weight * math.expm1(rate * more) for rate, weight in rates])
        return min(1.0, max(0.0, gone))

    def latest(self, limit: float) -> float:
        """Return the latest time, to the second, by which the chance is still within ``limit``.

        It is never before ``waited``. Raises ValueError unless 0 <= ``limit`` < 1.
        """
        _check_share(limit)
        allowed = -math.log1p(-limit)
        # No shape's longest median would allow more than this.
        beyond = [(start + allowed / rates[-1][0]) ** (1 / k) for k, start, rates in self.curves]
        low, high = self.waited, min(FOREVER, max(self.waited, *beyond))
        while high - low > SECOND:
            middle = (low + high) / 2
            if self.chance_by(middle) <= limit:
                low = middle
            else:
                high = middle
        return low


class Posterior(Struct, frozen=True, dict=True):
    """What is believed of one dog's waiting time, from a prior and the evidence.

    ``logs`` says for each shape how likely each median of the grid is, as logarithms with 0 for the
    likeliest pair. All times are minutes; negative ones count as 0. NaN raises ValueError, and no
    answer is ever NaN or infinite.
    """

    prior: Prior
    likelihood: Likelihood
    logs: tuple[tuple[float, ...], ...]

    @property
    def median(self) -> float:
        """Return the middle of what is believed of the dog's median wait."""
        return self.median_at(0.5)

    @property
    def range80(self) -> tuple[float, float]:
        """Return the range that holds the dog's median wait with a chance of 80 %.

        It is about the dog's *typical* wait; a single wait scatters around that.
        """
        return self.median_at(0.1), self.median_at(0.9)

    def median_at(self, share: float) -> float:
        """Return the time under which the dog's median wait lies with the chance ``share``.

        Raises ValueError unless 0 <= ``share`` < 1.
        """
        _check_share(share)
        weights = self._weights
        left, place = share * math.fsum(weights), 0
        while left > weights[place] and place < MEDIANS - 1:
            left, place = left - weights[place], place + 1
        # Each median stands for its stretch of the log scale, evenly filled.
        part = left / weights[place] if weights[place] > 0 else 0.0
        return math.exp(LOG_MEDIANS[place] + LOG_STEP * (min(part, 1.0) - 0.5))

    @cached_property
    def _weights(self) -> list[float]:
        """How likely each median is over all shapes, up to a constant."""
        return [sum(map(math.exp, logs)) for logs in zip(*self.logs, strict=True)]

    def survival(self, time: float) -> float:
        """Return the share of waits believed to last past ``time``, with the shape learnt too.

        It is what the log alone makes of a dog, to hold against known ones and other estimators;
        the chances of an accident, and all that people read, come from :meth:`conditional`.
        """
        time = _minutes(time)
        left = total = 0.0
        for shape, rates, logs in zip(SHAPES, RATES, self.logs, strict=True):
            power = time**shape
            left += sum(
                [math.exp(log - rate * power) for log, rate in zip(logs, rates, strict=True)]
            )
            total += sum(map(math.exp, logs))
        return min(1.0, left / total)

    def conditional(
        self, waited: float = 0.0, least: float = LEAST, steps: tuple[int, ...] = EACH
    ) -> ConditionalSurvival:
        """Return the chances for a dog that has held ``waited`` minutes already.

        Medians that weigh less than ``least`` are left out, and under each shape only every so
        many-th of the grid is looked at as ``steps`` says: more of either is coarser and quicker.
        """
        waited = _minutes(waited)
        curves = []
        for shape, share, all_rates, all_logs, step in zip(
            SHAPES, self.prior.shape_weights(), RATES, self.logs, steps, strict=True
        ):
            power, rates = waited**shape, all_rates[::step]
            logs: Sequence[float] = all_logs[::step]
            if power:
                logs = [log - rate * power for log, rate in zip(logs, rates, strict=True)]
            weights = _normalised(logs)
            kept = tuple([(r, share * w) for r, w in zip(rates, weights, strict=True) if w > least])
            curves.append((shape, power, kept))
        return ConditionalSurvival(waited, tuple(curves))

    def chance_by(self, time: float) -> float:
        """Return the chance that the dog has to go by ``time``: P(T <= time)."""
        return self.conditional().chance_by(time)

    def latest(self, limit: float, waited: float = 0.0) -> float:
        """Return the latest time by which the chance is still within ``limit``."""
        return self.conditional(waited).latest(limit)


@lru_cache(maxsize=32)
def posterior_of(prior: Prior, likelihood: Likelihood | None = None) -> Posterior:
    """Return the belief after the evidence; without any it is the prior itself."""
    likelihood = likelihood or Likelihood()
    before = prior.median_logs()
    rows = []
    for place, share in enumerate(prior.shape_weights()):
        level = math.log(max(share, TINY))
        rows.append([level + a + b for a, b in zip(before, likelihood.logs(place), strict=True)])
    best = max(map(max, rows))
    return Posterior(prior, likelihood, tuple([tuple([log - best for log in row]) for row in rows]))


def _normalised(logs: Sequence[float]) -> list[float]:
    """Return weights that sum to one from their logarithms, known up to a constant."""
    best = max(logs)
    weights = [math.exp(log - best) for log in logs]
    total = math.fsum(weights)
    return [weight / total for weight in weights]


def _minutes(time: float) -> float:
    """Return a time from nothing to about two years. Raises ValueError for NaN."""
    if math.isnan(time):
        raise ValueError("a time that is not a number")
    return min(max(time, 0.0), FOREVER)


def _check_share(share: float) -> None:
    """Raise ValueError unless 0 <= ``share`` < 1."""
    if not 0 <= share < 1:
        raise ValueError(f"a share must be from 0 to less than 1, not {share}")
