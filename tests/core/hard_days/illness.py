"""Ill dogs and false alarms: a call now, nerves, or the board's own doing."""

from __future__ import annotations

from collections.abc import Iterator

from tests.core.diary import Diary
from tests.core.hard_days.rows import Board, Check, at, row

NO_PEE = (
    row("listless-and-dry-for-12-h", "§7: listless and no pee for 12 h awake: call now",
        "d1 CLEAR; d2 06:30 up; 06:35 pee; 09:00 health listless; 09:30 nothing; 12:00 nothing; "
        "15:00 nothing; 18:00 nothing",
        Board("d2 15:05", warns_not=("no-pee now",)), Board("d2 18:40", warns=("no-pee now",))),
    row("two-signs-and-dry-for-16-h", "§7: two signs in a day and no pee for 16 h in all: call now",
        "d1 20:00 pee; 22:30 nothing; 22:40 settled night; d2 06:30 up; 06:35 nothing; "
        "08:00 health vomiting; 09:00 health loose-stool; 10:00 nothing; 12:00 nothing",
        Board("d2 12:10", warns=("no-pee now",))),
    row("listless-and-no-pee-since-it-came", "§7: counted from the arrival where none is logged",
        "d1 06:40 nothing; 09:00 health listless; 10:00 nothing; 12:00 nothing; 15:00 nothing; "
        "18:00 nothing",
        Board("d1 18:40", warns=("no-pee now",))),
    row("well-and-dry-for-13-h", "§7: no pee for 13 h is no emergency in a dog that is well",
        "d1 CLEAR; d2 06:30 up; 06:35 pee; 09:30 nothing; 12:00 nothing; 15:00 nothing; "
        "18:00 nothing",
        Board("d2 19:40", warns_not=("no-pee now",))),
    row("well-and-dry-for-a-day", "§7: no pee in 24 h: a vet soon",
        "d1 06:35 pee; 09:30 nothing; 12:00 nothing; 15:00 nothing; 18:00 nothing; 22:20 nothing; "
        "22:35 settled night; d2 06:30 up; 06:35 nothing",
        Board("d2 06:40", warns=("no-pee soon",))),
)  # fmt: skip

SIGNS = (
    row("three-signs-on-day-two", "§7: three signs of illness in a day count in the first days too",
        "d1 CLEAR; d2 06:30 up; 06:35 pee; 08:00 health loose-stool; 12:00 health off-food; "
        "16:00 health listless",
        Board("d2 16:05", warns=("loose-stool soon",))),
    row("two-signs-on-day-two", "§7: one or two may be nerves",
        "d1 CLEAR; d2 06:30 up; 06:35 pee; 08:00 health loose-stool; 12:00 health off-food",
        Board("d2 16:05", warns_not=("loose-stool soon", "off-food soon"))),
    row("loose-stool-of-a-toy-dog", "§7: toy dogs: loose stool the same day",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 08:00 health loose-stool",
        Board("d5 08:05", warns=("loose-stool today",)), kg=3),
    row("vomiting-of-a-senior", "§7: seniors: vomiting the same day",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 08:00 health vomiting",
        Board("d5 08:05", warns=("vomiting today",)), age="senior"),
    row("vomiting-once-of-an-adult", "§7: one sign of an adult of usual weight is watched",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 08:00 health vomiting",
        Board("d5 08:05", warns=("vomiting watch",), warns_not=("vomiting soon",))),
    row("straining-is-a-call-now", "§7: straining with little or no pee: call a vet now",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee small; 09:00 health straining; 10:00 pee small",
        Board("d5 09:01", warns=("straining now",)), Board("d5 20:00", warns=("straining now",))),
    row("straining-then-a-normal-pee", "§7: a normal pee afterwards lowers it to today",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 09:00 health straining; 10:00 pee usual",
        Board("d5 09:59", warns=("straining now",)),
        Board("d5 10:01", warns=("straining today",), warns_not=("straining now",),
              words=("today",))),
    row("straining-seen-by-a-vet", "§7: now until a vet check is logged",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 09:00 health straining; 11:00 vet",
        Board("d5 10:59", warns=("straining now",)), Board("d5 11:01", warns_not=("straining",))),
    row("straining-to-pass-stool", "§7: straining to pass stool: ask; it is not straining to pee",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 09:00 health straining-stool",
        Board("d5 09:05", warns=("straining-stool ask",), warns_not=("straining",))),
    row("a-puddle-found-on-return-with-distress",
        "§7: only when alone and soon after leaving, with distress: refer, do not label",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 09:00 left; 10:00 back; 10:01 pee-inside found alone; "
        "10:02 health distress; 14:00 pee; 14:10 left; 15:10 back; 15:11 pee-inside found alone; "
        "15:12 health distress",
        Board("d5 15:20", warns=("alone ask",), never=("separation anxiety",))),
)  # fmt: skip

RATES = (
    row("four-pees-in-two-hours", "§7: four pees within 2 h that nobody called",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 09:00 pee; 09:25 pee; 09:50 pee; 10:15 pee; 10:40 pee",
        Board("d5 10:45", warns=("often",))),
    row("four-pees-that-the-board-called", "§7: the board itself makes ten outings a day",
        "d1 06:30 up; 06:35 pee; 07:00 meal; 07:15 pee; 07:25 water; 07:45 pee; 08:00 play; "
        "08:15 pee",
        Board("d1 08:20", warns_not=("often", "small-pees"))),
    row("six-stools-in-a-day", "§7: six stools in a day",
        "d1-3 CLEAR; d4 06:30 up; 06:35 both; 08:30 both; 11:00 both; 13:30 both; 16:00 both; "
        "18:30 both",
        Board("d4 18:35", warns=("stools",))),
    row("three-stools-in-a-day", "§7: three stools a day are no rate to warn of",
        "d1-3 CLEAR", Board("d3 23:00", warns_not=("stools", "no-stool"))),
    row("no-stool-in-three-days", "§7: no stool in three days with meals eaten: watch",
        "d1 CLEAR; d2-4 06:30 up; 06:35 pee; 07:00 meal; 08:35 pee; 10:30 pee; 12:30 pee; "
        "14:30 pee; 16:30 pee; 17:30 meal; 19:00 pee; 21:00 pee; 22:30 pee; 22:40 settled; "
        "d5 06:30 up; 06:35 pee; 07:00 meal",
        Board("d4 12:00", warns_not=("no-stool",)), Board("d5 08:00", warns=("no-stool watch",))),
    row("a-relapse-by-the-rule", "§7: a relapse is counted by the rule, not by the estimate",
        "d1-6 CLEAR; d7 06:30 up; 06:36 pee; 08:00 pee-inside; 09:40 pee-inside; 11:05 pee-inside; "
        "12:30 pee-inside",
        Board("d7 12:35", warns=("relapse soon",)), learn=True),
    row("accidents-after-late-breaks-are-no-relapse", "§7: those after a late break do not count",
        "d1-6 CLEAR; d7 06:30 up; 06:36 pee; 11:30 pee-inside; 16:30 pee-inside; 21:30 pee-inside",
        Board("d7 21:35", warns_not=("relapse",)), learn=True),
)  # fmt: skip


def _amounts(day: int) -> str:
    """Return a day of ten pees of which about two are noted small and two large."""
    noted = ("small", "usual", "large", "usual", "usual")
    pees = (
        "06:35",
        "08:35",
        "10:30",
        "12:25",
        "14:20",
        "16:15",
        "17:50",
        "19:45",
        "21:00",
        "22:30",
    )
    many = 3 if day % 4 == 0 else 1  # now and then they come together, as chance has it
    entries = [
        f"{clock} pee {noted[(index // many + day) % 5]}" for index, clock in enumerate(pees)
    ]
    return "; ".join(("06:30 up", *entries, "22:40 settled"))


def _no_alarm(code: str) -> Check:
    """Return the check that a warning stands on no evening of a fortnight."""

    def check(page: Diary) -> Iterator[str]:
        for day in range(1, 15):
            if code in (warning.code for warning in at(page, f"d{day} 22:45").warnings):
                yield f"{code} stands on the evening of day {day}"

    return check


FORTNIGHT = "; ".join(f"d{day} {_amounts(day)}" for day in range(1, 15))
ALL_SMALL = "; ".join(
    f"{clock} pee small"
    for clock in ("06:35", "08:35", "10:30", "12:25", "14:20", "16:15", "19:45", "22:30")
)

AMOUNTS = (
    row("a-fifth-small-a-fifth-large", "§7: amounts warn by their share, never by a count alone",
        FORTNIGHT, _no_alarm("small-pees"), _no_alarm("large-pees")),
    row("small-ones-soon-after-full-ones", "§7: a small pee within an hour of a full one",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee usual; 07:20 pee small; 09:15 pee usual; "
        "09:55 pee small; 12:00 pee usual; 12:40 pee small; 15:00 pee usual; 15:45 pee small; "
        "18:00 pee usual; 18:40 pee small; 20:30 pee usual; 22:30 pee usual",
        Board("d5 22:35", warns_not=("small-pees",))),
    row("a-day-of-small-ones-only", "§7: many small pees against the dog's own days: a vet soon",
        f"d1-4 CLEAR; d5 06:30 up; {ALL_SMALL}", Board("d5 22:35", warns=("small-pees soon",))),
    row("marks-are-no-small-pees", "§4, §7: a mark is no pee that empties, and warns of no amount",
        "d1-4 CLEAR; d5 06:30 up; 06:35 pee; 08:00 pee-inside small upright; "
        "10:00 pee-inside small upright; 12:00 pee-inside small upright; "
        "14:00 pee-inside small upright",
        Board("d5 14:05", warns_not=("small-pees", "often"))),
    row("sources-of-a-wet-bed", "§7: sources shown beside a warning are veterinary texts",
        "d1-3 CLEAR; d4 06:30 up; 06:35 pee; 13:00 settled nap; 13:40 pee-inside fabric cause=leak",
        Board("d4 14:00", warns=("wet-bed soon",), never=("Mountain Express", "docest"))),
    row("sources-of-marking", "§7: sources shown beside a warning are veterinary texts",
        "d1-3 CLEAR; d4 06:30 up; 06:35 pee; 08:00 pee-inside small upright; "
        "11:00 pee-inside small upright; 14:00 pee-inside small upright",
        Board("d4 14:05", warns=("marking ask",), never=("Mountain Express", "docest"))),
    row("drinking-on-a-medicine", "§7: never withholding water; a medicine is the vet's matter",
        "d1-3 CLEAR; d4 06:30 up; 06:35 pee; 12:00 water ml=800; 18:00 water ml=900",
        Board("d4 18:05", warns=("drinking soon",), words=("medicine",)),
        conditions=frozenset({"water-medicine"})),
)  # fmt: skip

ROWS = (*NO_PEE, *SIGNS, *RATES, *AMOUNTS)
