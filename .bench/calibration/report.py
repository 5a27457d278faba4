"""Whether what the board predicts comes true, and what each level costs: all the tables.

    python .bench/calibration --dogs 4          # a quick look: 12 trials a row, some minutes

Part by part: the families, the levels, the deciles, the frontier, single changes.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from statistics import fmean

from dogs.population import DAYS
from dogs.table import print_comparison
from dogs.trial import Outcome, Waited

from calibration.models import MODELS
from calibration.plot import Point, plotted
from calibration.ranges import mean_of, ratio_of
from calibration.runs import OfFamily, of_families, of_ways
from calibration.ways import CHANGES, LEVELS, LIMITS, TABLES

Kind = str
KINDS: tuple[Kind, ...] = ("pee-inside", "poop-inside")


def predicted(outcome: Outcome, kinds: Sequence[Kind] = KINDS) -> float:
    """Return how many accidents by day were predicted once the estimate spoke."""
    return sum(_expected(wait, kinds) for wait in outcome.waits)


def came(outcome: Outcome, kinds: Sequence[Kind] = KINDS) -> float:
    """Return how many of them came."""
    return float(sum(wait.came in kinds for wait in outcome.waits))


def _expected(wait: Waited, kinds: Sequence[Kind]) -> float:
    pee, stool = wait.predicted
    return pee * ("pee-inside" in kinds) + stool * ("poop-inside" in kinds)


def print_families(found: dict[str, list[OfFamily]]) -> None:
    """Print for each family what came of what was predicted, and the same for other models."""
    pee = KINDS[:1]
    print(f"\n{'pee accidents':<18}{'came':>7}{'came / predicted':>22}{'within .5-2':>13}")
    for name, dogs in found.items():
        parts = [came(one.outcome, pee) for one in dogs]
        ratio = ratio_of(parts, [predicted(one.outcome, pee) for one in dogs])
        within = "yes" if 0.5 <= ratio.value <= 2 else "no"
        print(f"{name:<18}{fmean(parts):>7.2f}{ratio.words():>22}{within:>13}")
    print("\ncame / predicted by the holds of the same logs, without and with the tally's factor")
    print(f"{'':<18}" + "".join(f"{model:>18}" for model in MODELS))
    for name, dogs in found.items():
        cells = [f"{_ratio(dogs, m, 0):.2f}  {_ratio(dogs, m, 1):.2f}" for m in MODELS]
        print(f"{name:<18}" + "".join(f"{cell:>18}" for cell in cells))


def _ratio(dogs: Sequence[OfFamily], model: str, which: int) -> float:
    sums = [dog.models[model][which] for dog in dogs]
    whole = sum(one.predicted for one in sums)
    return sum(one.came for one in sums) / whole if whole else 0.0


def print_levels(results: dict[str, list[Outcome]], names: Sequence[str]) -> None:
    """Print what each way costs, and what it differs by from the first, paired by dog."""
    first = results[names[0]]
    head = ("", "accidents", "outings", "a day, 8-14", "empty", "came / predicted")
    print("\n{:<30}{:>18}{:>20}{:>18}{:>8}{:>20}".format(*head))
    for name in names:
        dogs = results[name]
        accidents, outings = _of(dogs, _accidents), _of(dogs, _outings)
        week = mean_of([_a_day(one) for one in dogs])
        true = ratio_of([came(one) for one in dogs], [predicted(one) for one in dogs])
        print(
            f"{name:<30}{mean_of(accidents).words():>18}{mean_of(outings).words(0):>20}"
            f"{week.words(1):>18}{fmean(one.empty for one in dogs):>8.1f}{true.words():>20}"
        )
    print(f"\n{'less ' + names[0]:<30}{'accidents':>22}{'outings':>22}")
    for name in names[1:]:
        dogs = results[name]
        more = [
            mean_of([value(one) - value(two) for one, two in zip(dogs, first, strict=True)])
            for value in (_accidents, _outings)
        ]
        print(f"{name:<30}{more[0].words(2, '+'):>22}{more[1].words(1, '+'):>22}")


def _of(dogs: Sequence[Outcome], value: Callable[[Outcome], float]) -> list[float]:
    return [value(one) for one in dogs]


def _accidents(one: Outcome) -> float:
    return float(one.accidents)


def _outings(one: Outcome) -> float:
    return float(one.outings)


def _a_day(one: Outcome) -> float:
    """Return the outings of a day in the second week."""
    return sum(one.outings_by_day[7:DAYS]) / 7


def print_deciles(dogs: Sequence[Outcome]) -> None:
    """Print the waits by the chance shown at their end, in ten groups as large as each other."""
    waits = sorted((_expected(wait, KINDS), bool(wait.came)) for dog in dogs for wait in dog.waits)
    print(f"\n{'tenth of the waits':<20}{'waits':>7}{'predicted':>11}{'came':>6}{'ratio':>7}")
    for tenth in range(10):
        part = waits[tenth * len(waits) // 10 : (tenth + 1) * len(waits) // 10]
        expected, really = sum(one for one, _ in part), sum(came for _, came in part)
        ratio = f"{really / expected:.2f}" if expected else "-"
        print(f"{tenth + 1:<20}{len(part):>7}{expected:>11.2f}{really:>6}{ratio:>7}")


def print_frontier(results: dict[str, list[Outcome]]) -> None:
    """Print accidents against outings with the limit swept, as a plot."""

    def point(name: str) -> Point:
        dogs = results[name]
        return fmean(_of(dogs, _outings)), fmean(_of(dogs, _accidents))

    print("\naccidents against outings, limit by limit; + a fixed timetable\n")
    print(plotted({name: point(name) for name in LIMITS}, {name: point(name) for name in TABLES}))


PARTS = ("families", "levels", "frontier", "changes")


def main() -> None:
    """Read the options, run, print."""
    parser = argparse.ArgumentParser(prog="calibration", description=__doc__)
    parser.add_argument("--dogs", type=int, default=8, help="how many of each kind")
    parser.add_argument("--first", type=int, default=1, help="the number of the first")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--part", choices=PARTS, action="append", help="only this; again for more")
    options = parser.parse_args()
    parts: Sequence[str] = options.part or PARTS
    dogs = range(options.first, options.first + options.dogs)
    if "families" in parts:
        print_families(of_families(dogs, options.seed, options.workers))
    if "levels" in parts:
        results = of_ways([*TABLES, *LEVELS], dogs, options.seed, options.workers)
        print_levels(results, list(LEVELS))
        print_comparison(results, options.seed)
        for name in LEVELS:
            print(f"\n{name}", end="")
            print_deciles(results[name])
    if "frontier" in parts:
        results = of_ways([*TABLES, *LIMITS], dogs, options.seed, options.workers)
        print_levels(results, list(LIMITS))
        print_frontier(results)
    if "changes" in parts:
        results = of_ways(list(CHANGES), dogs, options.seed, options.workers)
        print_levels(results, list(CHANGES))
