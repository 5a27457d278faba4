"""Beginnings, clocks and homes: arrival, weight and age, summer time, travel, food, pads."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from random import Random

from msgspec.structs import replace

from tests.core.diary import Diary
from tests.core.hard_days.rows import Board, Check, asked, at, row, written

START = (
    row("under-4-kg", "§4: 1.5 h under 4 kg",
        "d1 06:30 up; 06:36 pee", Board("d1 06:40", interval=90, due="08:06", top=180), kg=3.5),
    row("a-senior", "§4: 1.5 h for a senior; its top one step less",
        "d1 06:30 up; 06:36 pee", Board("d1 06:40", interval=90, due="08:06", top=180),
        age="senior"),
    row("on-a-medicine", "§4: 1.5 h on a medicine that makes it pass more water",
        "d1 06:30 up; 06:36 pee", Board("d1 06:40", interval=90, due="08:06", top=210),
        conditions=frozenset({"water-medicine"})),
    row("in-heat", "§4: 1.5 h for the four that it names, 2 h for the others",
        "d1 06:30 up; 06:36 pee", Board("d1 06:40", interval=120, top=210),
        conditions=frozenset({"in-heat"})),
    row("a-prone-dog", "§4: 1.5 h for a prone dog, up to 2 h",
        "d1 06:30 up; 06:36 pee", Board("d1 06:40", interval=90, due="08:06", top=120),
        prone=True),
    row("exactly-4-kg", "§4: under 4 kg, not at 4 kg; small up to 3 h",
        "d1 06:30 up; 06:36 pee", Board("d1 06:40", interval=120, due="08:36", top=180), kg=4),
    row("a-prone-dogs-most", "§4: prone 2 h, 2.5 h at most",
        "d1 06:30 up; 06:36 pee; 06:40 interval minutes=200 by=Ann",
        Board("d1 06:45", interval=150, due="09:06", top=120), prone=True),
    row("a-prone-senior-of-3-kg", "§4: 1.5 h, once, whatever is added up; never above its own top",
        "d1 06:30 up; 06:36 pee", Board("d1 06:40", interval=90, top=90), kg=3, prone=True,
        age="senior"),
    row("a-large-adult", "§4: 2 h to begin with, large up to 4 h",
        "d1 06:30 up; 06:36 pee", Board("d1 06:40", interval=120, top=240), kg=30),
    row("arrival-at-ten-at-night", "§3: the night break counts from the last pee; small 6 h",
        "d1 22:05 pee; 22:35 settled night; d2 06:30 up",
        Board("d1 23:00", due="d2 04:05", reasons=("night",), state=("asleep",)),
        Board("d2 07:00", verdicts={1: "unknown"}, streak=0, no_jobs=("silence",)),
        kg=8, arrived="22:00"),
    row("arrival-with-nothing-logged", "§3: no pee known: a break is due from the arrival on",
        "d1 16:00 note", Board("d1 16:05", due="16:00", state=("due",), interval=120),
        arrived="16:00"),
    row("starting-on-day-five", "§4: days of nothing are unknown; nothing is learned from them",
        "d5 06:30 up; 06:36 pee",
        Board("d5 07:00", due="08:36", interval=120, streak=0, warns_not=("no-pee",),
              verdicts={2: "unknown", 4: "unknown"}), learn=True),
)  # fmt: skip


A_NIGHT = "d1 06:30 up; 06:36 pee; 22:30 pee; 22:35 settled night"

SPRING_OSLO, AUTUMN_OSLO = date(2026, 3, 28), date(2026, 10, 24)
SPRING_NEW_YORK, AUTUMN_NEW_YORK = date(2026, 3, 7), date(2026, 10, 31)
SPRING_SYDNEY, AUTUMN_SYDNEY = date(2026, 10, 3), date(2026, 4, 4)
"""The days before the clocks change: IANA time zone database (read through the library)."""

CLOCKS = (
    row("spring-in-oslo-small-dog", "§8: a day of 23 h: 6 h end an hour later by the clock",
        f"{A_NIGHT}; d2 06:30 up",
        Board("d1 23:30", due="d2 05:30", reasons=("night",)), Board("d2 06:30", since_pee=420),
        on=SPRING_OSLO, kg=8),
    row("autumn-in-oslo", "§8: a day of 25 h: 22:30 to 06:30 are nine hours, a break is planned",
        f"{A_NIGHT}; d2 06:30 up",
        Board("d1 23:30", due="d2 05:30", reasons=("night",)), Board("d2 06:30", since_pee=540),
        on=AUTUMN_OSLO),
    row("spring-in-new-york", "§8: a day of 23 h", f"{A_NIGHT}; d2 06:30 up",
        Board("d1 23:30", due="d2 06:30", no_call=("night",)), Board("d2 06:30", since_pee=420),
        on=SPRING_NEW_YORK, zone="America/New_York"),
    row("autumn-in-new-york", "§8: a day of 25 h", f"{A_NIGHT}; d2 06:30 up",
        Board("d1 23:30", due="d2 05:30", reasons=("night",)), Board("d2 06:30", since_pee=540),
        on=AUTUMN_NEW_YORK, zone="America/New_York"),
    row("spring-in-sydney", "§8: a day of 23 h, in October", f"{A_NIGHT}; d2 06:30 up",
        Board("d1 23:30", due="d2 06:30", no_call=("night",)), Board("d2 06:30", since_pee=420),
        on=SPRING_SYDNEY, zone="Australia/Sydney"),
    row("autumn-in-sydney", "§8: a day of 25 h, in April", f"{A_NIGHT}; d2 06:30 up",
        Board("d1 23:30", due="d2 05:30", reasons=("night",)), Board("d2 06:30", since_pee=540),
        on=AUTUMN_SYDNEY, zone="Australia/Sydney"),
    row("clear-days-across-the-change", "§8: a day of 25 h is one day, clear as another",
        "d1-3 CLEAR; d4 06:30 up", Board("d4 07:00", verdicts={1: "clear", 2: "clear", 3: "clear"},
                                         streak=3, no_jobs=("silence",)), on=AUTUMN_OSLO),
    row("up-in-the-skipped-hour", "§8: 01:40 to 03:10 are half an hour on that night",
        f"{A_NIGHT}; d2 01:40 pee; 03:10 nothing",
        Board("d2 03:10", since_pee=30), on=SPRING_OSLO),
    row("half-past-midnight", "§8: a 00:30 outing before bed belongs to yesterday",
        "d1 06:30 up; 06:35 both; 08:35 pee; 10:30 pee; 12:30 pee; d2 00:30 pee; 00:40 settled; "
        "06:30 up; 06:35 pee",
        Board("d2 07:00", outings={1: 5, 2: 1})),
    row("up-before-five", "§8: a day belongs to the date on which the dog got up",
        "d1 CLEAR; d2 04:40 up; 04:45 pee", Board("d2 05:00", outings={1: 11, 2: 1})),
    row("out-at-three-and-back-to-bed", "§8: a day belongs to the date on which the dog got up",
        "d1 CLEAR; d2 03:00 pee; 03:05 settled night; 06:30 up; 06:35 pee",
        Board("d2 07:00", outings={1: 12, 2: 1})),
    row("an-entry-that-comes-late", "§8: entries come late: the state is computed anew",
        "d1 06:30 up; 06:36 pee; 09:10 pee logged=11:00; 08:40 pee logged=11:01",
        Board("d1 11:05", due="11:10", since_pee=115, holds={1: 2})),
    row("an-entry-from-the-future", "§8: a clock set wrong: what is still to come is not seen",
        "d1 06:30 up; 06:36 pee; 20:00 pee", Board("d1 08:00", due="08:36", since_pee=84)),
)  # fmt: skip


def _in_any_order(instant: str) -> Check:
    """Return the check that the board says the same, in whatever order entries are stored."""

    def check(page: Diary) -> Iterator[str]:
        entries = list(page.entries)
        Random(5).shuffle(entries)
        one, other = at(page, instant), at(replace(page, entries=tuple(entries)), instant)
        for name in ("next_break", "interval", "days", "since", "warnings", "timeline"):
            if getattr(one, name) != getattr(other, name):
                yield f"{instant}: another {name}"

    return check


def moved(zone: str, log: str, *says: Board) -> Check:
    """Return the check of what the board says of the log and ``log``, from now on in ``zone``."""

    def check(page: Diary) -> Iterator[str]:
        home = replace(page.settings.home, zone=zone)
        there = replace(page, settings=replace(page.settings, home=home))
        for one in says:
            yield from asked(written(there, log), one)

    return check


HOMES = (
    row("a-log-out-of-order", "§8: entries out of order: the state is computed from the whole log",
        "d1-3 CLEAR; d4 06:30 up; 06:35 both; 07:00 meal; 08:10 pee-inside; 09:00 nothing",
        _in_any_order("d4 09:05"), learn=True),
    row("an-hour-west", "§8: local days in the household's zone; lengths do not change on the way",
        "d1-2 CLEAR",
        moved("Europe/Lisbon", "d3 06:30 up; 06:35 both; 08:00 pee",
              Board("d3 08:10", since_pee=10, interval=150, due="10:30",
                    verdicts={1: "clear", 2: "clear"}, streak=2))),
    row("an-hour-east", "§8: local days in the household's zone; lengths do not change on the way",
        "d1-2 CLEAR",
        moved("Europe/Helsinki", "d3 06:30 up; 06:35 both; 08:00 pee",
              Board("d3 08:10", since_pee=10, verdicts={2: "clear"}, due_by="10:30"))),
    row("grazing", "§4: grazing makes no meal calls",
        "d1 06:30 up; 06:36 pee; 07:00 meal; 07:10 meal; 07:40 meal",
        Board("d1 07:41", due="08:36", no_call=("meal", "digestion")), meals=""),
    row("no-meal-times", "§4: grazing makes no meal calls, nor rows of meals",
        "d1 06:30 up; 06:36 pee",
        Board("d1 07:10", due="08:36", no_call=("meal", "digestion")), meals=""),
    row("three-meals", "§3: 15 min after each meal, and again at its digestion time",
        "d1 06:30 up; 06:36 both; 12:00 both; 12:30 meal",
        Board("d1 12:31", due="12:45", reasons=("meal",)), meals="07:00,12:30,17:30"),
    row("three-meals-waiting", "§3: again at the digestion time if no stool since",
        "d1 06:30 up; 06:36 both; 12:00 both; 12:30 meal; 12:45 pee",
        Board("d1 12:50", due="13:45", reasons=("digestion",)), meals="07:00,12:30,17:30"),
    row("pee-on-the-pad", "§4: a pee on the pad empties the bladder and is no accident",
        "d1 06:30 up; 06:36 pee; 08:00 pee pad",
        Board("d1 08:11", due="10:00", interval=120, since_pee=11)),
    row("pads-widen-nothing", "§4: on the pad it is the dog's own time, about now, no longer hold",
        "d1-2 06:30 up; 06:35 both; 08:30 pee pad; 10:25 pee pad; 12:20 pee pad; 13:00 nothing; "
        "14:00 nothing; 14:15 pee pad; 16:10 pee pad; 17:00 nothing; 18:05 pee pad; 20:00 pee pad; "
        "21:00 nothing; 22:00 pee pad; 22:30 nothing; 22:40 settled; d3 06:30 up",
        Board("d3 07:00", interval=120)),
    row("two-dogs-puddle-and-the-streak", "§4: what may be another dog's narrows neither dog",
        "d1-3 CLEAR; d4 06:30 up; 06:35 both; 08:20 pee-inside unsure; 09:00 pee",
        Board("d4 08:25", interval=150, since_pee=110, due_from="09:00", warns_not=("relapse",)),
        Board("d4 09:05", longest={4: 145})),
)  # fmt: skip

ROWS = (*START, *CLOCKS, *HOMES)
