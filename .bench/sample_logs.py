"""Write the sample logs: three invented dogs in invented households.

``python .bench/sample_logs.py [FOLDER]`` writes them to ``sample_logs/`` or to FOLDER. Every draw
comes from a seed, and every instant from the story, so that a second run gives the same bytes.
What happens is told by hand in ``sample_stories.py``; the ordinary breaks, meals, naps and notes
between are filled in here. The timing follows the household, never the product's own advice: a
change of the advice leaves the logs as they are.
"""

from __future__ import annotations

import shutil
import sys
from datetime import timedelta
from heapq import heappop, heappush
from itertools import count
from math import inf
from pathlib import Path
from random import Random
from typing import Any

BENCH = Path(__file__).resolve().parent
sys.path[:0] = [str(BENCH.parent), str(BENCH)]

from sample_diary import Diary  # noqa: E402
from sample_stories import STORIES, Moment, Story, minute_of  # noqa: E402

SAMPLES = BENCH.parent / "sample_logs"
TOLD_BY_HAND = 150
"""The last minutes of a story, in which nothing is filled in but breaks."""


class Life:
    """The days of one dog: the story's moments, and the ordinary ones in between."""

    def __init__(self, story: Story) -> None:
        self.story = story
        self.rng = Random(f"{story.name}-{story.seed}")
        self.diary = Diary(story, Random(f"hand-{story.name}-{story.seed}"))
        self.notes, self.remarks = iter(story.notes), iter(story.remarks)
        self.stool_remarks = iter(story.stool_remarks)
        self.queue: list[tuple[int, int, Moment]] = []
        self.order = count()
        self.asks: list[tuple[int, int]] = []
        """When each open reason arose, and when it asks for a break."""
        self.stools: list[int] = []
        self.last_pee = self.last_out = self.last_success = story.begins - 30
        self.empties, self.delay, self.woke, self.away = 0, 0, 0, False
        self.interval = 0.0
        self.keeps: list[tuple[int, int, str]] = []
        """When the dog holds back outside, before an accident of the story: from, to, what."""

    def run(self) -> Diary:
        """Live through the story and return its diary."""
        for number in range(1, self.story.days + 1):
            self._day(number)
        self.diary.rng = Random(f"asides-{self.story.name}-{self.story.seed}")
        for number, moments in self.story.asides.items():
            for moment in moments:
                self._aside((number - 1) * 1440 + moment.minute, moment)
        return self.diary

    def _aside(self, at: int, moment: Moment) -> None:
        """Write an entry that changes nothing of what happens."""
        details: dict[str, Any] = dict(moment.details)
        for name in ("ml", "rest", "minutes"):
            if name in details:
                details[name] = float(details[name])
        if moment.kind == "routine":
            details["about"] = self.diary.accident_before(at).id
        self.diary.write(moment.kind, at, **details)

    # --- A day ------------------------------------------------------------------------------------

    def _day(self, number: int) -> None:
        story, rng = self.story, self.rng
        midnight = (number - 1) * 1440
        self.interval = story.intervals[number - 1]
        self.asks.clear()
        self.queue.clear()
        up = midnight + minute_of(story.answers["up"]) + rng.randint(-6, 12)
        bed = midnight + minute_of(story.answers["bed"]) + rng.randint(-12, 10)
        self.woke = up = max(up, story.begins)
        for moment in story.script.get(number, ()):
            self._plan(midnight + moment.minute, moment)
            if moment.kind == "left":
                before = moment.minute - 14
                self._plan(midnight + before, Moment("ready", before))
        self.keeps = [self._keep(midnight, moment) for moment in story.script.get(number, ())]
        self._fill(number, midnight, up, bed)
        if number > 1:
            self.diary.write("up", up)
            self.asks.append((up, up))
            if rng.random() < 0.65:
                self.stools.append(up)
        self._draw_delay()
        while self._step(bed):
            pass
        if bed < story.ends:
            self._go_out(bed, certain=True)
            self.diary.write("settled", bed + rng.randint(6, 12), sleep="night")
            self._night(number, midnight)

    def _step(self, bed: int) -> bool:
        """Take the next moment or the next break, whichever comes first."""
        context_at = self.queue[0][0] if self.queue else inf
        break_at = (
            inf if self.away else max(self._due() + self.delay, self.last_out + 4, self.woke + 3)
        )
        at = min(context_at, break_at)
        if at >= min(bed - 12, self.story.ends):
            return False
        if break_at < context_at:
            self._go_out(int(at))
        else:
            self._live(heappop(self.queue)[2], int(at))
        return True

    def _night(self, number: int, midnight: int) -> None:
        clock = self.story.night_breaks.get(number)
        if clock is None:
            return
        at = midnight + 1440 + minute_of(clock)
        self.diary.write("up", at)
        self.diary.write("pee", at + 4, note=self.story.night_note if number == 2 else "")
        self.diary.write("settled", at + 12, sleep="night")
        self.last_pee = self.last_out = at + 4

    def _plan(self, at: int, moment: Moment) -> None:
        heappush(self.queue, (at, next(self.order), moment))

    def _keep(self, midnight: int, moment: Moment) -> tuple[int, int, str]:
        """Return from when to when the dog keeps what a later moment of the story needs."""
        what = moment.kind.removesuffix("-inside")
        to = midnight + moment.minute
        since = to - round(0.9 * self.interval) if what in ("pee", "poop") else to
        return (to if "cause" in moment.details else since, to, what)

    def _keeps(self, at: int, what: str) -> bool:
        return any(since <= at < to and what == kept for since, to, kept in self.keeps)

    def _fill(self, number: int, midnight: int, up: int, bed: int) -> None:
        """Plan what a day has anyway: meals, drinks, play, naps, duty, signs and notes."""
        story, rng = self.story, self.rng
        scripted = [(at, moment.kind) for at, _, moment in self.queue]
        gone = [at for at, kind in scripted if kind == "left"]
        home = [at for at, kind in scripted if kind == "back"]
        absences = [(left, next((b for b in home if b > left), left)) for left in gone]

        def add(kind: str, at: float, **details: str) -> None:
            minute = round(at)
            clear = all(not left - 25 < minute < back + 8 for left, back in absences)
            if up + 8 < minute < min(bed - 30, story.ends - TOLD_BY_HAND) and clear:
                self._plan(minute, Moment(kind, minute - midnight, details))

        for clock in story.answers["meals"].split(","):
            add("meal", midnight + minute_of(clock) + rng.randint(0, 14))
        for clock, person in story.duty:
            turn = story.people[(story.people.index(person) + number) % len(story.people)]
            add("duty", midnight + minute_of(clock) + rng.randint(-15, 20), by=turn)
        awake = bed - up
        for kind, number_a_day in story.ordinary.items():
            whole = int(number_a_day) + (rng.random() < number_a_day % 1)
            for part in range(round(whole * awake / 960)):
                share = (part + rng.uniform(0.15, 0.85)) / max(1, round(whole * awake / 960))
                add(kind, up + 20 + share * (awake - 60))

    # --- What happens -----------------------------------------------------------------------------

    def _live(self, moment: Moment, at: int) -> None:
        kind, details, write = moment.kind, dict(moment.details), self.diary.write
        late = int(details.pop("late", 0))
        if kind == "nap":
            self._nap(at, int(details.get("minutes", self.rng.randint(25, 75))))
        elif kind == "late":
            self.delay = max(self.delay, int(details["minutes"]))
        elif kind in ("right", "twice", "mistake"):
            self._correct(kind, at, details)
        elif kind in ("pee-inside", "poop-inside"):
            self._accident(kind, at, late, details)
        elif kind == "ready":
            self.asks.append((at, at + 1))
            self.delay = min(self.delay, 4)
        elif kind == "visit":
            write("visit", at, late=late, **details)
            self._go_out(at + 3, certain=True, by=details.get("by", ""))
        elif kind == "sign":
            details.setdefault("sign", self.rng.choice(self.story.signs))
            if at - self.last_success > 25 or "sign" in moment.details:
                write("sign", at, **details)
                self.asks.append((at, at + 1))
                self.delay = min(self.delay, 3)
        elif kind == "note":
            write("note", at, late=late, note=details.get("note") or next(self.notes))
        else:
            self._ordinary(kind, at, late, details)

    def _ordinary(self, kind: str, at: int, late: int, details: dict[str, Any]) -> None:
        rng = self.rng
        if kind == "duty":
            if details["by"] == self.diary.on_duty:
                return
            self.diary.on_duty = details["by"]
        elif kind == "meal":
            self.asks.append((at, at + 15))
            if rng.random() < 0.85:
                self.stools.append(at + round(self.story.digestion * rng.lognormvariate(0, 0.25)))
        elif kind == "water":
            self.asks.append((at, at + 20))
            if rng.random() < 0.4:
                details["ml"] = float(rng.choice(self.story.drinks))
        elif kind == "play":
            self.asks.append((at, at + 15))
        elif kind == "left":
            self.away = True
        elif kind == "back":
            self.away = False
            self.asks.append((at, at + 1))
            self.delay = min(self.delay, 3)
        elif kind == "interval":
            details["minutes"] = self.interval = float(details["minutes"])
        elif kind in ("pee", "poop", "both"):
            self._went(at, pee=kind != "poop")
        if not late and rng.random() < 0.07 and kind in ("meal", "water", "play"):
            late = rng.randint(4, 25)
        self.diary.write(kind, at, late=late, **details)

    def _nap(self, at: int, minutes: int) -> None:
        """Nap until the next break; a dog that is about to go out does not lie down."""
        delay = min(self.delay, 4)
        free = min(self._due() + delay, self.queue[0][0] if self.queue else inf) - at
        if self.away or free < 24 or at - self.last_out < 5:
            return
        wakes, self.delay = at + round(min(minutes, free - 2)), delay
        self.diary.write("settled", at, sleep="nap")
        self.diary.write("up", wakes)
        if wakes - at >= 30:
            self.asks.append((wakes, wakes + 1))

    def _accident(self, kind: str, at: int, late: int, details: dict[str, Any]) -> None:
        stays = details.pop("open", "") == "yes"
        for name in ("found", "alone", "upright"):
            if name in details:
                details[name] = details[name] == "yes"
        if "dry" in details:
            details["dry"] = self.diary.instant(at // 1440 * 1440 + minute_of(details["dry"]))
        event = self.diary.write(kind, at, late=late, **details)
        if not stays:
            at_work = at + late + self.rng.randint(6, 18)
            self.diary.write("cleaned", at_work, place=event.place, about=event.id)
        if kind == "pee-inside":
            self.last_pee = at
        else:
            self.stools.clear()
        if not event.found and not event.cause:
            self.asks.append((at, at + 2))
            self.delay = 1

    def _correct(self, how: str, at: int, details: dict[str, Any]) -> None:
        diary = self.diary
        if how == "right":
            event = diary.last(outing=details.pop("of", "outing") == "outing")
            if "earlier" in details:
                earlier = timedelta(minutes=int(details.pop("earlier")))
                details["at"] = event.at - earlier
            diary.edit(event, at + 0.5, **details)
        elif how == "twice":
            event = diary.last()
            minute = round((event.at - diary.midnight).total_seconds() / 60)
            again = diary.write(event.kind, minute, late=at - minute, by=event.by)
            diary.delete(again, at + 1.5)
        else:
            diary.take_back(diary.write(details["kind"], at))

    # --- Going out --------------------------------------------------------------------------------

    def _due(self) -> float:
        """Return when the next break is due in this household's eyes."""
        open_asks = [
            due
            for since, due in self.asks
            if not (self.last_out >= since and self.last_out >= due - 10)
        ]
        hold = self.last_pee + self.interval
        if self.empties and self.last_out >= hold - 10:
            hold = self.last_out + self.interval / 2
        return max(min([hold, *open_asks]), self.last_success + 10)

    def _draw_delay(self) -> None:
        draw = self.rng.random()
        self.delay = self.rng.randint(0, 5) if draw < 0.8 else self.rng.randint(6, 13)
        if draw > 1 - self.story.lateness:
            self.delay = self.rng.randint(18, 34)

    def _go_out(self, at: int, certain: bool = False, by: str = "") -> None:
        """Go out; where it is ``certain``, as at bedtime, a pee comes and is logged at once."""
        rng, held = self.rng, at - self.last_pee
        share = held / max(self.interval, 75)
        odds = 1.0 if certain else 0.97 if share > 0.75 else min(0.9, 1.5 * share - 0.25)
        pee = rng.random() < odds and not self._keeps(at, "pee")
        ripe = [stool for stool in self.stools if stool <= at + 12]
        poop = bool(ripe) and rng.random() < 0.9 and not self._keeps(at, "poop")
        if poop:
            self.stools = [stool for stool in self.stools if stool > at + 30]
        kind = "both" if pee and poop else "pee" if pee else "poop" if poop else "nothing"
        late = rng.randint(5, 40) if rng.random() < 0.08 and not certain else 0
        details: dict[str, Any] = {"by": by} if by else {}
        if remark := self._remark(kind):
            details["note"] = remark
        elif rng.random() < 0.25:
            details["place"] = rng.choice(self.story.places)
        self.diary.write(kind, at, late=late, **details)
        if kind != "nothing":
            self._went(at, pee)
            return
        self.last_out = at
        self.empties += 1
        if self.empties <= 2 and held > 0.6 * self.interval:
            self.asks.append((at, at + 15))
        self._draw_delay()

    def _went(self, at: int, pee: bool) -> None:
        """Take in that an outing brought something."""
        self.last_out = self.last_success = at
        self.last_pee = at if pee else self.last_pee
        self.empties = 0
        self._draw_delay()

    def _remark(self, kind: str) -> str:
        """Return what somebody adds to an outing now and then, where something came."""
        remarks = {"pee": self.remarks, "nothing": iter(())}.get(kind, self.stool_remarks)
        return next(remarks, "") if self.rng.random() < 0.17 else ""


def write_samples(folder: Path) -> None:
    """Write every sample into ``folder``, in place of those that are there."""
    for story in STORIES:
        target = folder / story.name
        shutil.rmtree(target, ignore_errors=True)
        Life(story).run().save(target)


if __name__ == "__main__":
    write_samples(Path(sys.argv[1]) if len(sys.argv) > 1 else SAMPLES)
