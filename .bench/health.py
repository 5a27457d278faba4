"""False alarms and misses of the warnings, on made fortnights of well dogs and of ill ones.

    python .bench/health.py [how many of each, 100]

Of the dogs that are well it prints, for several mixes of pees noted small and large, in how many
fortnights of 100 any warning stood at all, and which; of the ill ones, how many of 100 of each
illness did not raise their warning, at its level, in time. The seeds are fixed.
"""

from __future__ import annotations

import sys
from collections import Counter
from datetime import timedelta
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1])]

from pottyboard.core.engine.history import History  # noqa: E402
from pottyboard.core.health.health_views import LEVELS, Warning  # noqa: E402
from pottyboard.core.health.warnings import warnings_between  # noqa: E402
from pottyboard.core.model.localtime import minutes_of  # noqa: E402
from tests.core.health.fortnights import DAYS, ILLNESSES, Made, Mix, ill, normal  # noqa: E402

MIXES = (Mix(0, 0), Mix(0.1, 0.1), Mix(0.2, 0), Mix(0, 0.2), Mix(0.2, 0.2))


def stood(made: Made, until: float) -> tuple[Warning, ...]:
    """Return every warning that stood from the arrival to so many minutes after it."""
    settings, events = made.log()
    end = settings.dog.arrived + timedelta(minutes=until)
    history = History.of(settings, events, minutes_of(end))
    return warnings_between(history, settings.dog.arrived, end)


def main() -> None:
    """Print both tables."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    print(f"{'well: small / large':26}{'false alarms in 100':>20}")
    for mix in MIXES:
        raised: Counter[str] = Counter()
        alarms = 0
        for seed in range(many):
            codes = {w.code for w in stood(normal(seed, mix), DAYS * 1440)}
            alarms += bool(codes)
            raised.update(codes)
        which = ", ".join(f"{code} {count}" for code, count in raised.most_common())
        print(f"{mix.small:8.0%} / {mix.large:<15.0%}{100 * alarms / many:20.1f}  {which}")
    print(f"\n{'ill':26}{'misses in 100':>20}")
    missed_in_all = 0
    for number in range(len(ILLNESSES)):
        missed, name = 0, ""
        for seed in range(many):
            case = ill(seed, MIXES[seed % len(MIXES)], number)
            name = case.name
            enough = LEVELS[: LEVELS.index(case.level) + 1]
            found = stood(case.made, case.by)
            missed += not any(w.code in case.codes.split() and w.level in enough for w in found)
        missed_in_all += missed
        print(f"{name:26}{100 * missed / many:20.1f}")
    print(f"{'all':26}{100 * missed_in_all / many / len(ILLNESSES):20.1f}")


if __name__ == "__main__":
    main()
