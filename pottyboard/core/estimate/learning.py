"""What the log has taught about this dog: how long it holds, and when a meal comes out.

Four waiting times are learned, each from what the log can say of it:

* ``hold``: from a pee to the moment it would have gone indoors, awake. A pee outside says "at least
  this long", an accident seen "exactly", one found "between last dry and found";
* ``night``: the same over a night;
* ``ready``: from a meal to the moment at which an outing brings stool. An outing without stool says
  "not yet", one with stool "by now";
* ``stool_hold``: from then to the moment it would have come indoors: outside says "at least".

Beside them it counts the meals that brought no stool, and keeps the hours at which stool came.

Marking, greetings, leaks and what went on the pad say nothing about holding and are left out; an
accident after a late break is the household's fault, but it still tells how long the dog held.
Older days count less, because the dog is learning.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from msgspec import Struct, structs

from pottyboard.core.estimate.bowel import NO_HOURS, Bowel, Hours
from pottyboard.core.estimate.lateness import NO_LATENESS, Lateness
from pottyboard.core.log.waits import Digested, Hold, Stool, Wait
from pottyboard.core.model import figures, priors
from pottyboard.core.model.settings import Dog
from pottyboard.core.statistics.posterior import (
    FEWER,
    ConditionalSurvival,
    Likelihood,
    Posterior,
    Prior,
    posterior_of,
)
from pottyboard.core.statistics.survival import CensoredTime


@lru_cache(maxsize=16)
def hold_prior(dog: Dog) -> Prior:
    """Return what is believed of a dog's median hold awake before its log speaks."""
    by_size = {
        "small": priors.HOLD_MEDIAN_SMALL,
        "medium": priors.HOLD_MEDIAN_MEDIUM,
        "large": priors.HOLD_MEDIAN_LARGE,
    }
    median = float(by_size[dog.size])
    median *= priors.HOLD_SHARE_PRONE if dog.prone else 1.0
    median *= priors.HOLD_SHARE_SENIOR if dog.age == "senior" else 1.0
    return Prior(median, priors.HOLD_SPREAD, priors.HOLD_SHAPE, priors.HOLD_SHAPE_SPREAD)


@lru_cache(maxsize=16)
def night_prior(dog: Dog) -> Prior:
    """Return the same for a night."""
    awake = hold_prior(dog)
    return structs.replace(awake, median=awake.median * priors.HOLD_NIGHT_TIMES)


@lru_cache(maxsize=16)
def ready_prior(dog: Dog) -> Prior:
    """Return what is believed of the minutes from a meal to stool at an outing."""
    by_size = {
        "small": figures.DIGESTION_SMALL,
        "medium": figures.DIGESTION_MEDIUM,
        "large": figures.DIGESTION_LARGE,
    }
    return Prior(by_size[dog.size], priors.READY_SPREAD, priors.READY_SHAPE, priors.SHAPE_SPREAD)


@lru_cache(maxsize=16)
def stool_hold_prior(dog: Dog) -> Prior:
    """Return what is believed of the minutes for which stool that is ready is held."""
    return Prior(
        priors.STOOL_HELD, priors.STOOL_HELD_SPREAD, priors.STOOL_HELD_SHAPE,
        priors.SHAPE_SPREAD,
    )  # fmt: skip


def hold_minutes(awake: float, asleep: float) -> float:
    """Return a hold in waking minutes: a minute asleep fills the bladder less."""
    return awake + priors.SLEEP_SHARE * asleep


def censored_hold(hold: Hold) -> CensoredTime:
    """Return what one hold says about the waiting time, in waking minutes (a night: in all).

    A dry hold by day says no more than "at least 4 h", one over a night no more than "at least
    10 h": a longer one may be two with a forgotten pee between. For the same reason an accident
    seen after a gap in the log says only "by then". A hold that the dog ended itself says "about
    now", and weighs less than one that ended indoors: many a dog asks before it has to.
    """
    high = hold.length if hold.night else hold_minutes(hold.awake, hold.asleep)
    if hold.chosen:
        low = max(0.0, high - figures.ABOUT_NOW)
        return CensoredTime(low, high + figures.ABOUT_NOW, figures.ASKED_WEIGHT)
    most = figures.NIGHT_MOST if hold.night else figures.MOST_INTERVAL
    if hold.how == "out":
        return CensoredTime(min(high, most))
    if hold.how == "seen" and not is_gap(hold):
        return CensoredTime(high, high)
    low = hold.dry * high / hold.length if hold.length else 0.0
    return CensoredTime(min(low, high, most), high)


NOTHING = Likelihood()
_CERTAIN = 1 - 1e-9
"""No chance is taken to be higher, so that its hazard stays finite."""
_ROUGHLY = 1e-5
"""The weight of a median under which the tally leaves it out."""


def is_gap(hold: Hold) -> bool:
    """Whether a hold is too long to be true: a gap in the log, not a hold."""
    if hold.night:
        return hold.length > figures.LOG_STOPPED
    return hold.awake > figures.SILENCE_TOO_LONG


def holds_by_day(holds: Iterable[Hold]) -> list[Hold]:
    """Return the holds awake that say something about holding."""
    return [hold for hold in holds if hold.tells and not hold.night]


def _is_spent(meal: Digested) -> bool:
    """Whether a meal without stool was outside late enough to say that it brought none."""
    return not meal.ended and meal.bare >= priors.MEAL_SPENT


class Tally(Struct, frozen=True):
    """How many accidents were predicted for the holds of this dog, and how many it had.

    ``predicted`` is the sum of the cumulative hazards, -ln(1 - chance), to the real end of each
    hold awake, each as it was believed on the morning of its day and before any correction; ``had``
    counts the accidents among them. Older days weigh less.
    """

    predicted: float = 0.0
    had: float = 0.0

    def __add__(self, other: Tally) -> Tally:
        """Return both together."""
        return Tally(self.predicted + other.predicted, self.had + other.had)

    def a_day_older(self) -> Tally:
        """Return the same after one more day."""
        keep = float(priors.TALLY_KEPT_A_DAY)
        return Tally(self.predicted * keep, self.had * keep)

    @property
    def factor(self) -> float:
        """What the hazard of the next hold is multiplied with, so that it comes true.

        It is the mean of a gamma posterior: Poisson counts of accidents with the predicted ones as
        exposure (Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.6).
        """
        return (priors.TALLY_HAD + self.had) / (priors.TALLY_PREDICTED + self.predicted)


NO_TALLY = Tally()


class EvidenceSoFar(Struct, frozen=True):
    """What a stretch of the log has taught: evidence for the four waits, and plain counts.

    ``holds`` and ``accidents`` count the waking holds and the accidents among them, unweighted;
    ``gaps`` those too long to be true; ``meals`` the meals of which the end is known, ``stools``
    those that brought one; ``nights`` the holds over a night. ``hours`` are those of the stools;
    ``tally`` says how far what was predicted has come true, ``lateness`` how the household keeps
    its breaks.
    """

    hold: Likelihood = NOTHING
    night: Likelihood = NOTHING
    ready: Likelihood = NOTHING
    stool_hold: Likelihood = NOTHING
    holds: int = 0
    accidents: int = 0
    gaps: int = 0
    stools: int = 0
    nights: int = 0
    meals: int = 0
    hours: Hours = NO_HOURS
    tally: Tally = NO_TALLY
    lateness: Lateness = NO_LATENESS

    @classmethod
    def of(cls, waits: Iterable[Wait]) -> EvidenceSoFar:
        """Return what these waits teach."""
        waits = list(waits)
        holds = [wait for wait in waits if isinstance(wait, Hold)]
        day = holds_by_day(holds)
        nights = [hold for hold in holds if hold.tells and hold.night and not is_gap(hold)]
        meals = [w for w in waits if isinstance(w, Digested)]
        return cls(
            Likelihood.of(map(censored_hold, day)),
            Likelihood.of(map(censored_hold, nights)),
            Likelihood.of(meal.ready for meal in meals if meal.ended or not _is_spent(meal)),
            Likelihood.of(held for meal in meals if (held := meal.stool_hold) is not None),
            len(day),
            sum(hold.indoors for hold in day),
            sum(map(is_gap, day)),
            sum(meal.ended for meal in meals),
            len(nights),
            sum(meal.ended or _is_spent(meal) for meal in meals),
            Hours(tuple((wait.ready, 1.0) for wait in waits if isinstance(wait, Stool))),
        )

    def __add__(self, other: EvidenceSoFar) -> EvidenceSoFar:
        """Return both together."""
        return EvidenceSoFar(
            self.hold + other.hold,
            self.night + other.night,
            self.ready + other.ready,
            self.stool_hold + other.stool_hold,
            self.holds + other.holds,
            self.accidents + other.accidents,
            self.gaps + other.gaps,
            self.stools + other.stools,
            self.nights + other.nights,
            self.meals + other.meals,
            self.hours + other.hours,
            self.tally + other.tally,
            self.lateness + other.lateness,
        )

    def a_day_older(self) -> EvidenceSoFar:
        """Return the same with its evidence faded by one day; the counts stay."""
        keep = priors.KEPT_A_DAY
        return structs.replace(
            self,
            hold=self.hold.scaled(keep),
            night=self.night.scaled(keep),
            ready=self.ready.scaled(keep),
            stool_hold=self.stool_hold.scaled(keep),
            hours=self.hours.a_day_older(keep),
            tally=self.tally.a_day_older(),
            lateness=self.lateness.a_day_older(),
        )


@dataclass(frozen=True)
class Estimate:
    """What is believed of one dog at an instant, worked out only when asked for."""

    dog: Dog
    evidence_so_far: EvidenceSoFar
    _known: dict[tuple[int, int], float] = field(default_factory=dict, compare=False)

    def pees_by(self, minutes: float, held: float = 0.0) -> float:
        """Return the chance of a pee indoors by ``minutes`` awake, having held ``held`` of them."""
        key = (round(held), round(minutes))
        chance = self._known.get(key)
        if chance is None:
            chances = self.hold.conditional(key[0]) if key[0] else self._fresh_hold
            chance = self._known[key] = self._corrected(chances.chance_by(key[1]))
        return chance

    def _corrected(self, chance: float) -> float:
        """Return a chance with the dog's own factor on its cumulative hazard."""
        return -math.expm1(self.evidence_so_far.tally.factor * math.log1p(-min(chance, _CERTAIN)))

    def tally_of(self, holds: Iterable[Hold]) -> Tally:
        """Return what was predicted for these holds before any correction, and what came."""
        telling = holds_by_day(holds)
        fresh = self._fresh_hold_in_short
        chances = (fresh.chance_by(hold_minutes(hold.awake, hold.asleep)) for hold in telling)
        return Tally(
            math.fsum(-math.log1p(-min(chance, _CERTAIN)) for chance in chances),
            float(sum(hold.indoors for hold in telling)),
        )

    @cached_property
    def _fresh_hold(self) -> ConditionalSurvival:
        return self.hold.conditional()

    @cached_property
    def _fresh_hold_in_short(self) -> ConditionalSurvival:
        """The same from fewer medians: a sum over many holds needs no more, and each day asks."""
        return self.hold.conditional(least=_ROUGHLY, steps=FEWER)

    @cached_property
    def bowel(self) -> Bowel:
        """The bowel: what meals and the dog's hours bring."""
        seen, sure = self.evidence_so_far, priors.MEALS_BEFORE
        some = (seen.stools + sure * priors.MEALS_WITH_STOOL) / (seen.meals + sure)
        return _bowel(self.dog, seen.ready, seen.stool_hold, some, seen.hours)

    @cached_property
    def dry_until(self) -> float:
        """The minutes awake by which 97 of 100 waits are still dry."""
        return self.wait_within(1 - figures.SAFE_SHARE)

    def wait_within(self, limit: float) -> float:
        """Return the minutes awake by which the chance of a pee indoors reaches ``limit``."""
        if limit not in self._waits:
            bare = -math.expm1(math.log1p(-limit) / self.evidence_so_far.tally.factor)
            self._waits[limit] = self._fresh_hold.latest(min(bare, _CERTAIN))
        return self._waits[limit]

    @cached_property
    def _waits(self) -> dict[float, float]:
        return {}

    def night_until(self, limit: float) -> float:
        """Return the minutes of a night by which the chance of a wet one reaches ``limit``."""
        if limit not in self._nights:
            self._nights[limit] = self.night.latest(limit)
        return self._nights[limit]

    @cached_property
    def _nights(self) -> dict[float, float]:
        return {}

    @property
    def has_enough(self) -> bool:
        """Whether there is enough log for the estimate to call a break."""
        return self.evidence_so_far.holds >= priors.HOLDS_TO_SPEAK

    @property
    def knows_dog(self) -> bool:
        """Whether the log shows enough for the chance to take the place of fixed reasons."""
        return self.evidence_so_far.holds >= priors.HOLDS_TO_KNOW

    @property
    def knows_nights(self) -> bool:
        """Whether the estimate may call a break at night: nobody is woken for a dog that is dry."""
        return self.evidence_so_far.night.accidents >= priors.NIGHT_WET

    @cached_property
    def hold(self) -> Posterior:
        """The hold awake."""
        return posterior_of(hold_prior(self.dog), self.evidence_so_far.hold)

    @cached_property
    def night(self) -> Posterior:
        """The hold over a night."""
        return posterior_of(night_prior(self.dog), self.evidence_so_far.night)

    @cached_property
    def ready(self) -> Posterior:
        """From a meal to stool at an outing."""
        return posterior_of(ready_prior(self.dog), self.evidence_so_far.ready)

    @cached_property
    def digestion(self) -> float:
        """The dog's own minutes from meal to stool, whole ones, once the log knows better than the
        default."""
        prior = ready_prior(self.dog)
        if self.evidence_so_far.stools < priors.STOOLS_TO_KNOW:
            return prior.median
        own = math.floor(self.ready.median)
        return min(max(own, figures.AFTER_MEAL * 2), priors.DIGESTION_LONGEST)


@lru_cache(maxsize=8)
def _bowel(dog: Dog, ready: Likelihood, held: Likelihood, some: float, hours: Hours) -> Bowel:
    """Return the bowel after this evidence; the same one, with its curves, until that changes."""
    return Bowel(
        posterior_of(ready_prior(dog), ready),
        posterior_of(stool_hold_prior(dog), held),
        some,
        hours,
    )


@lru_cache(maxsize=8)
def estimate_of(dog: Dog, evidence_so_far: EvidenceSoFar) -> Estimate:
    """Return the estimate after these lessons: the same one until they change."""
    return Estimate(dog, evidence_so_far)
