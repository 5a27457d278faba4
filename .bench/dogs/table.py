"""The benchmark: every way of calling breaks over one population, and what they compare to."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Sequence
from itertools import pairwise
from math import exp, log
from multiprocessing import Pool
from random import Random
from statistics import fmean

from dogs.body import MECHANISMS, Mechanism
from dogs.policies import FIXED, POLICIES
from dogs.population import draw_dog
from dogs.trial import Outcome, Trial

Results = dict[str, list[Outcome]]
"""For each way of calling breaks the outcome of every dog, in the same order."""


def live(job: tuple[int, int, Mechanism]) -> dict[str, Outcome]:
    """Run every way of calling breaks on one dog (the same dog, days and owner each time)."""
    seed, number, mechanism = job
    traits = draw_dog(seed, number)
    anatomy = MECHANISMS[mechanism]
    return {name: Trial(traits, anatomy, make, seed).run() for name, make in POLICIES.items()}


def run(mechanism: Mechanism, dogs: int, seed: int, workers: int) -> Results:
    """Run the population and return the outcomes."""
    jobs = [(seed, number, mechanism) for number in range(1, dogs + 1)]
    with Pool(workers) as pool:
        lives = pool.map(live, jobs, chunksize=1)
    return {name: [one[name] for one in lives] for name in POLICIES}


# --- Comparing ------------------------------------------------------------------------------------

Mean = Callable[[Callable[[Outcome], float], str], float]


def _mean_over(results: Results, picked: Sequence[int]) -> Mean:
    return lambda value, name: fmean(value(results[name][index]) for index in picked)


def _outings(one: Outcome) -> float:
    return one.outings


def _accidents(one: Outcome) -> float:
    return one.accidents


def _empty(one: Outcome) -> float:
    return one.empty


def _interpolate(at: float, points: Sequence[tuple[float, float]]) -> float | None:
    """Return the height at ``at`` on the line through ``points``, its height on a log scale.

    None outside the points: a fixed timetable that nobody ran is not compared with.
    """
    logs = [(along, log(max(height, 0.01))) for along, height in points]
    for (left, low), (right, high) in pairwise(logs):
        if left <= at <= right:
            share = (at - left) / (right - left) if right > left else 0.0
            return exp(low + share * (high - low))
    return None


def compare(mean: Mean, name: str) -> tuple[float | None, float | None, float | None]:
    """Compare one way with the fixed timetables.

    Returns the ratio of accidents at the same number of outings, the ratio of outings at the same
    number of accidents, and the empty outings less those of the fixed timetable with as many
    outings; None where no fixed timetable reaches that far.
    """
    tables = [f"every {every} min" for every in FIXED]
    by_outings = sorted((mean(_outings, t), mean(_accidents, t)) for t in tables)
    by_accidents = sorted((accidents, outings) for outings, accidents in by_outings)
    empties = sorted((mean(_outings, t), mean(_empty, t)) for t in tables)
    outings, accidents = mean(_outings, name), mean(_accidents, name)
    same_outings = _interpolate(outings, by_outings)
    same_accidents = _interpolate(accidents, by_accidents)
    empty = _interpolate(outings, empties)
    return (
        None if same_outings is None else accidents / same_outings,
        None if same_accidents is None else outings / same_accidents,
        None if empty is None else mean(_empty, name) - empty,
    )


# --- Printing -------------------------------------------------------------------------------------


def print_table(results: Results) -> None:
    """Print means for one dog over two weeks."""
    dogs = len(next(iter(results.values())))
    head = ("", "pee", "stool", "accidents", "week 2", "outings", "a day", "empty", "interval")
    print("{:<22}{:>7}{:>7}{:>11}{:>8}{:>9}{:>7}{:>7}{:>10}".format(*head))
    for name, outcomes in results.items():
        outings = fmean(one.outings for one in outcomes)
        print(
            f"{name:<22}"
            f"{fmean(one.pee for one in outcomes):>7.2f}"
            f"{fmean(one.stool for one in outcomes):>7.2f}"
            f"{fmean(one.accidents for one in outcomes):>11.2f}"
            f"{fmean(sum(one.by_day[7:]) for one in outcomes):>8.2f}"
            f"{outings:>9.1f}{outings / 13.55:>7.1f}"
            f"{fmean(one.empty for one in outcomes):>7.1f}"
            f"{fmean(one.interval for one in outcomes):>10.0f}"
        )
    signs = fmean(one.signs for one in results["every 120 min"])
    print(f"\n{dogs} dogs; signs noticed in time with every 120 min: {signs:.1f} a dog")


def print_comparison(results: Results, seed: int) -> None:
    """Print each way against the fixed timetables, with a 90 % range over resampled dogs."""
    dogs = len(next(iter(results.values())))
    rng = Random(f"resample-{seed}")
    samples = [rng.choices(range(dogs), k=dogs) for _ in range(200)]
    print(
        f"\n{'against the fixed timetables':<30}{'accidents at the':>24}{'outings at the':>24}"
        f"{'empty outings':>16}\n{'':<30}{'same outings':>24}{'same accidents':>24}{'more':>16}"
    )
    for name in results:
        if name.startswith("every"):
            continue
        whole = compare(_mean_over(results, range(dogs)), name)
        spread = [compare(_mean_over(results, picked), name) for picked in samples]
        cells = [_cell(whole[i], [one[i] for one in spread]) for i in (0, 1)]
        more = "-" if whole[2] is None else f"{whole[2]:+.1f}"
        print(f"{name:<30}{cells[0]:>24}{cells[1]:>24}{more:>16}")


def print_reasons(results: Results) -> None:
    """Print for the board what called its outings, and how many of them were for nothing."""
    for name, outcomes in results.items():
        if not name.startswith("board"):
            continue
        sums: dict[str, list[int]] = {}
        for outcome in outcomes:
            for why, counts in outcome.by_reason.items():
                sums[why] = [a + b for a, b in zip(sums.get(why, [0, 0, 0]), counts, strict=True)]
        print(f"\n{name:<22}{'outings':>9}{'empty':>8}{'needed':>8}")
        for why, (all_, empty, needed) in sorted(sums.items(), key=lambda one: -one[1][0]):
            print(
                f"  {why:<20}{all_ / len(outcomes):>9.1f}{empty / all_:>8.0%}{needed / all_:>8.0%}"
            )


def _cell(value: float | None, spread: Sequence[float | None]) -> str:
    known = sorted(one for one in spread if one is not None)
    if value is None or len(known) < len(spread) // 2:
        return "out of their reach"
    low, high = known[len(known) // 20], known[-1 - len(known) // 20]
    return f"{value:.2f} ({low:.2f}-{high:.2f})"


def main() -> None:
    """Read the options, run, print."""
    parser = argparse.ArgumentParser(prog="dogs", description=__doc__)
    parser.add_argument("--dogs", type=int, default=100, help="how many (20 for a quick look)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--mechanism", choices=[*MECHANISMS, "all"], default="all")
    parser.add_argument("--reasons", action="store_true", help="what called the board's outings")
    options = parser.parse_args()
    chosen = list(MECHANISMS) if options.mechanism == "all" else [options.mechanism]
    together: Results = {name: [] for name in POLICIES}
    for mechanism in chosen:
        began = time.perf_counter()
        results = run(mechanism, options.dogs, options.seed, options.workers)
        took = time.perf_counter() - began
        print(f"\n=== {mechanism}: {options.dogs} dogs, seed {options.seed} ({took:.0f} s)\n")
        print_table(results)
        print_comparison(results, options.seed)
        if options.reasons:
            print_reasons(results)
        for name, outcomes in results.items():
            together[name] += outcomes
        sys.stdout.flush()
    if len(chosen) > 1:
        print("\n=== all of them together\n")
        print_table(together)
        print_comparison(together, options.seed)
