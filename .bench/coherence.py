"""How often a screen contradicts itself: samples, hard days and simulated dogs, look by look.

    python .bench/coherence.py [--every 5] [--dogs 20] [--rows 400] [--show 3]

Prints for every rule of ``tests/core/coherence.py`` the looks that broke it, out of how many.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from multiprocessing import Pool
from pathlib import Path
from shutil import copytree

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / ".bench")]

from dogs.body import MECHANISMS  # noqa: E402
from dogs.policies import POLICIES  # noqa: E402
from dogs.population import draw_dog  # noqa: E402
from dogs.trial import Trial  # noqa: E402

from pottyboard.core.events import Event  # noqa: E402
from pottyboard.core.model.settings import Settings  # noqa: E402
from pottyboard.core.situation import situation  # noqa: E402
from pottyboard.store import DogLog  # noqa: E402
from tests.core.coherence import incoherences  # noqa: E402
from tests.core.test_hard_days import TABLE  # noqa: E402

Page = tuple[str, Settings, tuple[Event, ...], bool]


def samples() -> Iterator[Page]:
    """Yield the sample logs."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(copytree(ROOT / "sample_logs", Path(folder) / "logs"))
        for settings in sorted(copy.glob("*/settings.json")):
            log = DogLog(settings.parent)
            yield settings.parent.name, log.settings, tuple(log.events), True


def hard_days(most: int) -> Iterator[Page]:
    """Yield the logs of the hard days, by the rule and with learning in turns."""
    for number, hard in enumerate(TABLE[:most]):
        if hard.red:
            continue
        page = hard.page()
        if page.entries:
            yield hard.id, page.settings, page.entries, number % 2 == 0


def dogs(count: int) -> Iterator[Page]:
    """Yield the logs of simulated dogs that go out by a fixed timetable."""
    for number in range(1, count + 1):
        traits = draw_dog(1, number)
        anatomy = list(MECHANISMS.values())[number % len(MECHANISMS)]
        trial = Trial(traits, anatomy, POLICIES["every 120 min"], 1)
        trial.run()
        yield f"dog {number}", traits.settings(), tuple(trial.log), True


def looks(page: Page, every: int) -> Iterator[datetime]:
    """Yield the instants from the first entry to half a day past the last."""
    _, settings, events, _ = page
    now = min(settings.dog.arrived, *(e.at for e in events)).replace(second=0, microsecond=0)
    last = max(e.at for e in events) + timedelta(hours=16)
    while now < last:
        yield now
        now += timedelta(minutes=every)


def sweep(job: tuple[Page, int]) -> tuple[int, Counter[str], list[tuple[str, str]]]:
    """Look at one log; return the looks, the broken ones by rule, and what was said."""
    page, every = job
    name, settings, events, learn = page
    broken: Counter[str] = Counter()
    said: dict[tuple[str, str], str] = {}
    instants = tuple(looks(page, every))
    for now in instants:
        # Who looks at that moment has not heard of what is told later.
        known = tuple(e for e in events if e.at <= now and (e.logged is None or e.logged <= now))
        faults = tuple(incoherences(situation(settings, known, now, learn=learn)))
        broken.update({rule for rule, _ in faults})
        for rule, words in faults:
            said.setdefault((rule, words), f"{name} {now:%m-%d %H:%M}Z: {words}")
    return len(instants), broken, [(rule, line) for (rule, _), line in said.items()]


def print_table(
    results: Iterable[tuple[int, Counter[str], list[tuple[str, str]]]], show: int
) -> None:
    """Print the counts, and of each rule a few of the sentences."""
    total, broken, said = 0, Counter[str](), dict[str, list[str]]()
    for looked, counts, words in results:
        total += looked
        broken += counts
        for rule, line in words:
            said.setdefault(rule, []).append(line)
    print(f"{total} looks, {sum(broken.values())} contradictions")
    for rule, count in broken.most_common():
        print(f"  {rule:16}{count:8}")
        for line in said[rule][:show]:
            print(f"      {line}")


def main() -> None:
    """Read the options, look, print."""
    parser = argparse.ArgumentParser(prog="coherence", description=__doc__)
    parser.add_argument("--every", type=int, default=5, help="minutes between two looks")
    parser.add_argument("--dogs", type=int, default=20)
    parser.add_argument("--rows", type=int, default=400, help="how many hard days")
    parser.add_argument("--show", type=int, default=3, help="sentences shown of each rule")
    parser.add_argument("--workers", type=int, default=1)
    options = parser.parse_args()
    pages = [*samples(), *hard_days(options.rows), *dogs(options.dogs)]
    print(f"{len(pages)} logs, every {options.every} min")
    with Pool(options.workers) as pool:
        found = pool.map(sweep, [(page, options.every) for page in pages], chunksize=1)
    print_table(found, options.show)


if __name__ == "__main__":
    main()
