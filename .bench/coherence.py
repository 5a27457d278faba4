"""How often a screen contradicts itself: samples, hard days and simulated dogs, look by look.

    python .bench/coherence.py [--every 5] [--dogs 20] [--rows 400] [--show 3] [--only NAME]

Prints for every rule of ``tests/core/coherence.py`` the looks that broke it, out of how many, log
by log as it goes, then for all of them.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from itertools import chain, cycle
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
from pottyboard.core.situation import Situation, situation  # noqa: E402
from pottyboard.store import DogLog  # noqa: E402
from tests.core.coherence import (  # noqa: E402
    SERVES_NO_BREAK,
    incoherences,
    moved,
    put_off,
    who_calls,
)
from tests.core.made_logs import LOGS  # noqa: E402
from tests.core.test_hard_days import TABLE  # noqa: E402

PAGES_EVERY = 180
"""Minutes between two looks at the evening and the hold, which are long to work out."""

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


def made_logs() -> Iterator[Page]:
    """Yield the made logs of several hard days each."""
    for name, page in LOGS.items():
        yield name, page.settings, page.entries, page.learn


def dogs(numbers: Iterable[int]) -> Iterator[Page]:
    """Yield the logs of simulated dogs that go out by a fixed timetable."""
    for number in numbers:
        traits = draw_dog(1, number)
        anatomy = list(MECHANISMS.values())[number % len(MECHANISMS)]
        trial = Trial(traits, anatomy, POLICIES["every 120 min"], 1)
        trial.run()
        yield dog_name(number), traits.settings(), tuple(trial.log), True


def dog_name(number: int) -> str:
    """Return the name of a simulated dog's log, known before the log is made."""
    return f"dog {number}"


def wanted(options: argparse.Namespace) -> Iterator[Page]:
    """Yield the logs with ``options.only`` in their names; a dog that is not asked for costs
    nothing."""
    made = chain(samples(), made_logs(), hard_days(options.rows))
    yield from (page for page in made if options.only in page[0])
    numbers = range(options.first, options.first + options.dogs)
    yield from dogs(number for number in numbers if options.only in dog_name(number))


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
    before: Situation | None = None
    kinds = cycle(SERVES_NO_BREAK)
    pages_at = instants[0]
    for now in instants:
        # Who looks at that moment has not heard of what is told later.
        known = tuple(e for e in events if e.logged is None or e.logged <= now)
        seen = situation(settings, known, now, learn=learn)
        faults = [*incoherences(seen), *(moved(before, seen) if before else ())]
        if seen.next_break.state == "late":
            more = Event(next(kinds), now, id="more")
            faults += put_off(seen, situation(settings, (*known, more), now, learn=learn))
        if learn and now >= pages_at:
            pages_at = now + timedelta(minutes=PAGES_EVERY)
            faults += who_calls(settings, known, now)
        before = seen
        broken.update({rule for rule, _ in faults})
        for rule, words in faults:
            said.setdefault((rule, words), f"{name} {now:%m-%d %H:%M}Z: {words}")
    return len(instants), broken, [(rule, line) for (rule, _), line in said.items()]


def print_table(
    names: list[str],
    results: Iterable[tuple[int, Counter[str], list[tuple[str, str]]]],
    show: int,
) -> None:
    """Print the counts of each log as it is done, then of all, with a few sentences of each."""
    total, broken, said = 0, Counter[str](), dict[str, list[str]]()
    for name, (looked, counts, words) in zip(names, results, strict=True):
        found = ", ".join(f"{rule} {count}" for rule, count in counts.most_common())
        print(f"  {name:40}{looked:6}  {found or 'none'}", flush=True)
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
    parser.add_argument("--first", type=int, default=1, help="number of the first dog")
    parser.add_argument("--only", default="", help="only logs with this in their names")
    parser.add_argument("--rows", type=int, default=400, help="how many hard days")
    parser.add_argument("--show", type=int, default=3, help="sentences shown of each rule")
    parser.add_argument("--workers", type=int, default=1)
    options = parser.parse_args()
    pages = list(wanted(options))
    if not pages:
        parser.error(
            f"no log has {options.only!r} in its name: samples, made logs, hard days, dog "
            f"{options.first} to {options.first + options.dogs - 1} (--first, --dogs)"
        )
    print(f"{len(pages)} logs, every {options.every} min", flush=True)
    jobs = [(page, options.every) for page in pages]
    names = [page[0] for page in pages]
    if options.workers == 1:
        print_table(names, map(sweep, jobs), options.show)
        return
    with Pool(options.workers) as pool:
        print_table(names, pool.imap(sweep, jobs), options.show)


if __name__ == "__main__":
    main()
