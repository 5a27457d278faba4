"""The trials: dogs of the three mechanisms by every way, dogs of every family by the board."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from multiprocessing import Pool
from typing import NamedTuple, TypeVar

from dogs.body import MECHANISMS, Mechanism
from dogs.policies import Board
from dogs.population import DAYS, draw_dog
from dogs.trial import Outcome, Trial

from calibration.families import FAMILIES, Skips, anatomy_of
from calibration.models import Sum, replayed
from calibration.ways import CHANGES, LEVELS, LIMITS, TABLES, Way, changed
from pottyboard.core.engine.history import History
from pottyboard.core.model.localtime import minutes_of

WAYS: dict[str, Way] = {**TABLES, **LEVELS, **LIMITS, **CHANGES}
SKIPS = "skips breaks"
"""Weibull 4, with an owner who lets one call of eight pass."""


class Job(NamedTuple):
    """One trial: a way on a dog of a mechanism, or of a family."""

    seed: int
    number: int
    way: str
    mechanism: Mechanism = "bladder"


class OfFamily(NamedTuple):
    """One trial of a family: the outcome, and what each model said of the same log."""

    outcome: Outcome
    models: dict[str, tuple[Sum, Sum]]


def _live(job: Job) -> Outcome:
    way, traits = WAYS[job.way], draw_dog(job.seed, job.number)
    with changed(way):
        return Trial(traits, MECHANISMS[job.mechanism], way.make, job.seed).run()


Done = TypeVar("Done")


def _told(trials: Iterable[Done], many: int) -> Iterator[Done]:
    """Yield the trials as they end, and say to stderr how far it is."""
    for number, trial in enumerate(trials, 1):
        end = "\n" if number == many else ""
        print(f"\r{number} of {many} trials", end=end, file=sys.stderr, flush=True)
        yield trial


def of_ways(names: Sequence[str], dogs: range, seed: int, workers: int) -> dict[str, list[Outcome]]:
    """Return for each way the outcomes of the same dogs of all mechanisms, in one order."""
    jobs = [
        Job(seed, n, name, mechanism) for mechanism in MECHANISMS for n in dogs for name in names
    ]
    found: dict[str, list[Outcome]] = {name: [] for name in names}
    with Pool(workers) as pool:
        for job, outcome in zip(jobs, _told(pool.imap(_live, jobs), len(jobs)), strict=True):
            found[job.way].append(outcome)
    return found


def _live_family(job: Job) -> OfFamily:
    traits = draw_dog(job.seed, job.number)
    owner = Skips(traits, job.seed) if job.way == SKIPS else None
    family = FAMILIES["Weibull 4" if job.way == SKIPS else job.way]
    way = Way()
    trial = Trial(traits, anatomy_of(family), way.make, job.seed, owner)
    outcome = trial.run()
    policy = trial.policy
    assert isinstance(policy, Board)
    end = trial.log[-1]
    history = History.of(policy.settings, trial.log, minutes_of(end.at))
    assert history.today.plan.number >= DAYS
    return OfFamily(outcome, replayed(history))


def of_families(dogs: range, seed: int, workers: int) -> dict[str, list[OfFamily]]:
    """Return the outcomes of every family, and of the owner who skips breaks."""
    names = (*FAMILIES, SKIPS)
    jobs = [Job(seed, number, name) for name in names for number in dogs]
    found: dict[str, list[OfFamily]] = {name: [] for name in names}
    with Pool(workers) as pool:
        lived = _told(pool.imap(_live_family, jobs), len(jobs))
        for job, one in zip(jobs, lived, strict=True):
            found[job.way].append(one)
    return found
