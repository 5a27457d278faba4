"""Made logs of several hard days each, to be looked at from the arrival past the last entry.

They are written as the rows of ``hard_days/rows.py`` are: ``dN`` turns to a day, ``dN-M`` writes
what follows on each of those days, CLEAR is a whole day without an accident.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.core.diary import Diary, diary
from tests.core.hard_days.rows import written

SPRING, AUTUMN = date(2026, 3, 23), date(2026, 10, 19)
"""Mondays six days before the clocks change in Oslo (IANA time zone database)."""

MORNING = "06:30 up; 06:35 both; 07:00 meal; 07:20 poop"
EVENING = "19:45 pee; 21:30 pee; 22:30 pee; 22:40 settled night"
WEEK = "d1-6 CLEAR; d7"
LATE_DAY = (
    "06:50 up; 07:05 both; 07:30 meal; 09:35 pee; 12:10 pee; 13:00 settled nap; 14:50 up; "
    "15:00 pee; 17:30 meal; 18:05 pee-inside found kitchen dry=17:20; 18:10 poop; 20:40 pee; "
    "23:05 pee; 23:20 settled night"
)


def made(log: str, *, learn: bool = True, **home: Any) -> Diary:
    """Return a diary with this log; ``home`` are the arguments of :func:`tests.core.diary.diary`.

    With ``learn`` false only the rule decides.
    """
    opened = diary(**home)
    return written(Diary(opened.settings, date=opened.date, learn=learn), log)


LOGS: dict[str, Diary] = {
    "a silent afternoon": made(f"{WEEK} {MORNING}; 09:30 pee; 19:10 pee; {EVENING}; d8 06:35 pee"),
    "an ill dog": made(
        f"{WEEK} {MORNING}; 08:00 pee small; 08:30 pee small; 09:00 pee-inside small; "
        "09:10 health small-pees; 09:40 pee small; 10:00 health straining; 10:20 nothing; "
        "11:00 health listless; 13:00 nothing; 15:00 water ml=900; 16:00 health loose-stool; "
        f"18:00 vet; {EVENING}; d8 06:30 up; 07:00 both"
    ),
    "accidents at night": made(
        f"d1-3 CLEAR; d4 {MORNING}; 09:30 pee; 22:20 pee; 22:30 settled night; d5 03:10 "
        "pee-inside hall; 03:20 pee; 03:30 settled night; 06:30 up; 06:40 both; 08:30 pee; "
        "22:30 pee; 22:40 settled night; d6 04:00 pee-inside found; 06:30 up; 06:35 pee"
    ),
    "out in the night": made(
        f"{WEEK} 01:10 up; 01:15 pee; 02:22 pee; 02:30 settled night; 04:40 nothing; "
        f"04:50 settled night; {MORNING}; 08:30 pee; {EVENING}; d8 00:20 pee; 05:40 both; "
        "07:00 meal; 09:00 pee"
    ),
    "the short night of spring": made(
        f"{WEEK} 01:40 pee; 03:10 nothing; 03:20 settled night; {MORNING}; 08:40 pee; "
        f"12:00 pee; {EVENING}; d8 {MORNING}",
        on=SPRING,
    ),
    "the long night of autumn": made(
        f"{WEEK} 02:30 pee; 02:50 settled night; {MORNING}; 08:40 pee; {EVENING}; d8 {MORNING}",
        on=AUTUMN,
        kg=7,
    ),
    "one of two dogs": made(
        f"d1-3 CLEAR; d4 {MORNING}; 08:20 pee-inside unsure sofa; 09:10 pee; 11:40 pee-inside "
        f"unsaid; 12:00 pee; 12:04 pee by=Ann; 14:00 pee; 16:10 pee; {EVENING}; d5 {MORNING}"
    ),
    "many empty outings": made(
        f"{WEEK} {MORNING}; 08:50 nothing; 09:05 nothing; 09:20 nothing; 09:50 nothing; "
        "10:20 nothing; 10:50 pee-inside; 13:40 nothing; 14:00 pee; 15:50 nothing; 16:05 sign "
        f"door; 16:08 pee; 18:30 nothing; {EVENING}; d8 06:35 nothing; 06:50 nothing; 07:10 pee"
    ),
    "a late household": made(f"d1-8 {LATE_DAY}; d9 06:50 up; 07:05 both"),
    "a clock that is set back": made(
        f"{WEEK} {MORNING}; 09:30 pee; 23:50 pee; d9 09:00 pee; 10:00 meal; d7 09:45 water ml=200"
    ),
    "a log that went stale": made(f"d1-5 CLEAR; d6 {MORNING}; 11:31 pee; d9 10:00 note"),
    "a nap that nobody ended": made(
        f"{WEEK} {MORNING}; 08:30 pee; 09:30 settled nap; 15:40 pee; 16:10 settled nap; 16:20 up; "
        f"{EVENING}; d8 06:35 both; 08:40 pee; 10:00 settled nap; 18:30 note"
    ),
    "the arrival late in the day": made(
        "d1 16:10 pee; 17:40 meal; 18:20 poop-inside; 19:00 nothing; 21:50 pee; 22:50 settled "
        f"night; d2 02:10 pee; 02:20 settled night; {MORNING}; 08:10 pee",
        arrived="16:00",
        kg=8,
    ),
    "the last days": made(f"d1-13 CLEAR; d14 {MORNING}; 09:30 pee; 22:30 pee; d15-16 CLEAR"),
    "left alone, with a walk late": made(
        f"d1-4 CLEAR; d5 {MORNING}; 08:10 pee; 08:30 left; 12:40 visit; 12:42 pee; 17:10 back; "
        f"17:12 pee; 17:40 meal; {EVENING}; d6 {MORNING}; 08:32 left; 17:30 pee-inside found "
        f"alone; 17:31 back; 17:35 pee; {EVENING}; d7 {MORNING}",
        away="08:30-17:00",
        away_from=5,
        kg=25,
    ),
    "a prone dog on pads": made(
        "d1-2 06:30 up; 06:35 both; 08:30 pee pad; 10:25 pee pad; 12:20 pee pad; 13:00 nothing; "
        "14:00 pee-inside found hall dry=13:30; 16:10 pee pad; 18:05 both pad; 20:00 pee pad; "
        f"22:00 pee; {EVENING}; d3 06:30 up; 06:35 pee-inside; 08:00 pee small; 09:30 pee",
        kg=4.5,
        prone=True,
        learn=False,
    ),
    "an interval of the household's own": made(
        f"d1-5 CLEAR; d6 {MORNING}; 07:30 interval minutes=45; 08:10 pee; 10:00 interval "
        f"minutes=300; 12:00 play; 12:30 water ml=400; 16:00 pee; {EVENING}; d7 {MORNING}; "
        "08:00 routine measure=fixed-reasons; 09:30 meal; 10:00 pee; 12:00 play; 15:00 pee"
    ),
    "a bed after midnight": made(
        "d1-3 08:30 up; 08:35 both; 09:00 meal; 10:30 pee; 12:30 pee; 14:25 pee; 16:20 pee; "
        "18:00 meal; 18:20 both; 20:15 pee; 22:10 pee; 23:50 pee; d2 00:40 pee; 00:50 settled "
        "night; d4 03:30 pee; 08:30 up; 08:40 both; 11:00 pee",
        up="08:30",
        bed="00:30",
        meals="09:00,18:00",
    ),
    "food always there, far away": made(
        f"d1-4 CLEAR; d5 {MORNING}; 07:40 meal; 08:10 meal; 09:00 pee; 10:30 sign circling; "
        f"10:33 poop; 13:00 pee; {EVENING}; d6 05:10 up; 05:20 pee; 07:30 pee",
        zone="America/New_York",
        on=date(2026, 10, 27),
        meals="",
    ),
    "two answers to silence": made(
        f"d1-4 CLEAR; d5 {MORNING}; 08:30 pee; 14:30 pee; 14:31 quiet; 19:40 pee; {EVENING}; "
        f"d7 09:00 pee; 09:01 quiet; 11:00 pee-inside upright small; 12:30 pee; {EVENING}; "
        f"d8 {MORNING}"
    ),
}
"""By name: silence, illness, nights, changes of the clocks, several dogs, empty outings, lateness,
a wrong clock, a log that stops, naps, the first day and the last, days alone, other homes."""
