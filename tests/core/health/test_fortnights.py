"""Made fortnights, a small part of ``.bench/health.py``: no false alarm, and no illness missed."""

from __future__ import annotations

from datetime import timedelta

import pytest

from pottyboard.core.engine.history import History
from pottyboard.core.health.health_views import LEVELS, Warning
from pottyboard.core.health.warnings import warnings_between
from pottyboard.core.model.localtime import minutes_of
from tests.core.health.fortnights import DAYS, ILLNESSES, Made, Mix, ill, normal

MIXES = (Mix(0, 0), Mix(0.1, 0.1), Mix(0.2, 0), Mix(0, 0.2), Mix(0.2, 0.2))


def stood(made: Made, until: float) -> tuple[Warning, ...]:
    """Return every warning that stood from the arrival to so many minutes after it."""
    settings, events = made.log()
    end = settings.dog.arrived + timedelta(minutes=until)
    return warnings_between(
        History.of(settings, events, minutes_of(end)), settings.dog.arrived, end
    )


@pytest.mark.parametrize("mix", MIXES)
def test_a_normal_fortnight_raises_nothing(mix: Mix) -> None:
    """At any mix of small and large pees; our own choice of what is normal, see fortnights."""
    for seed in range(6):
        assert [warning.because for warning in stood(normal(seed, mix), DAYS * 1440)] == [], seed


@pytest.mark.parametrize("number", range(len(ILLNESSES)))
def test_an_illness_is_called_in_time_and_at_its_level(number: int) -> None:
    """Of 100 fortnights with many small pees four are told at a lower level, or a little later; a
    relapse is none where the days before left too much open to be clear."""
    missed = []
    for seed in range(4):
        case = ill(seed, MIXES[seed + 1], number)
        enough = LEVELS[: LEVELS.index(case.level) + 1]
        found = {w.code: w.level for w in stood(case.made, case.by)}
        if not any(found.get(code) in enough for code in case.codes.split()):
            missed.append((case.name, seed, found))
    assert len(missed) <= (case.name in ("many small pees", "relapse")), missed


def test_a_made_fortnight_follows_from_its_seed() -> None:
    assert normal(3, MIXES[1]) == normal(3, MIXES[1])
    assert normal(3, MIXES[1]) != normal(4, MIXES[1])
