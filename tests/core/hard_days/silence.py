"""What is not in the log: silence by day, nights, and what a dog said by its signs."""

from __future__ import annotations

from collections.abc import Iterator

from pottyboard.core.estimate.learning import Estimate
from tests.core.diary import Diary
from tests.core.hard_days.rows import Board, Check, row

SILENT = (
    "06:30 up; 06:35 both; 07:00 meal; 07:20 poop; 08:35 pee; 10:30 pee; 18:30 pee; 20:30 pee; "
    "22:30 pee; 22:40 settled"
)
FIVE_HOURS = (
    "06:30 up; 06:35 both; 08:35 pee; 10:30 pee; 15:30 pee; 17:30 pee; 19:30 pee; 21:30 pee; "
    "22:30 pee; 22:40 settled"
)


def _day(afternoon: str) -> str:
    """Return a whole day with this between 10:30 and 17:30."""
    return (
        f"06:30 up; 06:35 both; 08:35 pee; 10:30 pee; {afternoon}; 17:30 pee; 19:30 pee; "
        "21:30 pee; 22:30 pee; 22:40 settled"
    )


DAYS = (
    row("eight-silent-hours", "§4: more than 4 h awake without an entry make the day unknown",
        f"d1 {SILENT}; d2 06:30 up",
        Board("d2 07:00", verdicts={1: "unknown"}, longest={1: 125})),
    row("silence-is-asked-about", "§4: the board asks whether nothing happened",
        "d1 06:30 up; 06:35 both; 08:35 pee; 10:30 pee; 18:30 pee",
        Board("d1 18:31", jobs=("silence",))),
    row("nothing-is-asked-on-a-kept-day", "§4: no silence, no question",
        "d1 CLEAR; d2 06:30 up", Board("d2 07:00", verdicts={1: "clear"}, no_jobs=("silence",))),
    row("the-answer-clears-the-day", "§4: the answer clears the day; it never makes a hold",
        f"d1 {SILENT}; 18:31 quiet; d2 06:30 up",
        Board("d2 07:00", verdicts={1: "clear"}, longest={1: 125}, no_jobs=("silence",))),
    row("five-silent-hours-a-day-widen-nothing", "§4: unknown days do not count",
        f"d1-4 {FIVE_HOURS}; d5 06:30 up",
        Board("d5 07:00", interval=120, verdicts={1: "unknown", 4: "unknown"})),
    row("four-hours-are-no-silence", "§4: more than 4 h, not 4 h",
        f"d1 {_day('14:30 pee; 16:00 pee')}; d2 06:30 up",
        Board("d2 07:00", verdicts={1: "clear"})),
    row("a-nap-is-no-silence", "§4: the silence is of hours awake",
        f"d1 {_day('12:30 settled nap; 15:20 up; 15:21 pee')}; d2 06:30 up",
        Board("d2 07:00", verdicts={1: "clear"}, no_jobs=("silence",))),
    row("five-hours-at-a-wide-interval", "§4: 5 h where the interval is over 3 h",
        f"d1 06:30 interval minutes=210; {_day('15:00 pee')}; d2 06:30 up",
        Board("d2 07:00", verdicts={1: "clear"})),
    row("a-hold-of-twice-the-interval", "§4: an awake hold over twice the interval: unknown",
        "d1 06:30 up; 06:35 pee; 08:30 nothing; 10:00 play; 10:45 pee; 12:40 pee; 14:40 pee; "
        "16:40 pee; 18:40 pee; 20:40 pee; 22:30 pee; 22:40 settled; d2 06:30 up",
        Board("d2 07:00", verdicts={1: "unknown"})),
    row("a-day-of-nothing", "§4: unknown neither counts nor breaks the streak",
        "d1 CLEAR; d3 06:30 up; 06:35 pee",
        Board("d3 07:00", verdicts={1: "clear", 2: "unknown"}, streak=1, interval=120)),
    row("a-day-of-nothing-is-asked-about", "§4: unknown: the board asks",
        "d1 CLEAR; d3 06:30 up; 06:35 pee", Board("d3 07:00", jobs=("silence",))),
    row("a-day-of-nothing-answered", "§4: the answer never makes a hold, and is asked for once",
        "d1 CLEAR; d3 06:30 up; 06:35 pee; 06:36 quiet",
        Board("d3 07:00", longest={2: 0, 3: 0}, interval=120, no_jobs=("silence",))),
    row("an-unknown-day-in-between", "§4: unknown neither counts nor breaks the streak",
        "d1 CLEAR; d3 CLEAR; d4 06:30 up", Board("d4 07:00", streak=2, interval=150)),
    row("the-day-of-arrival-at-four", "§4: a whole day from getting up, or unknown",
        "d1 16:05 pee; 18:00 pee; 20:00 pee; 21:30 pee; 22:30 pee; 22:40 settled; d2 06:30 up",
        Board("d2 07:00", verdicts={1: "unknown"}, no_jobs=("silence",)), arrived="16:00"),
    row("short-holds-widen-nothing", "§4: clear days at shorter gaps prove nothing",
        "d1-4 06:30 up; 06:35-21:35/1:00 pee; 22:30 pee; 22:40 settled; d5 06:30 up",
        Board("d5 07:00", streak=4, interval=120)),
    row("widened-once-and-waits", "§4: two clear days and evidence, each time",
        "d1-5 CLEAR; d6 06:30 up", Board("d3 06:31", interval=150),
        Board("d6 07:00", interval=150)),
    row("an-accident-ends-the-streak", "§4: the streak counts clear days",
        "d1-3 CLEAR; d4 06:30 up; 06:36 pee; 08:10 poop-inside",
        Board("d3 22:00", streak=2), Board("d4 08:11", streak=0, verdicts={4: "accident"})),
    row("fourteen-clear-days", "§4: fourteen clear days are not house-trained, on day 14",
        "d1-13 CLEAR; d14 06:30 up; 06:35 pee",
        Board("d14 07:00", streak=13, words=("do not make a house-trained dog",))),
    row("three-outings-are-too-few", "§4: at least four outings",
        "d1 06:30 up; 06:35 both; 09:30 play; 12:30 pee; 15:30 play; 18:00 meal; 20:00 play; "
        "22:30 pee; 22:40 settled; d2 06:30 up", Board("d2 07:00", verdicts={1: "unknown"})),
)  # fmt: skip


def _every_118_min(*, sign: int | None) -> str:
    """Return a day of pees 1 h 58 apart, each so many minutes after a sign, or without one."""
    pees = range(6 * 60 + 35, 22 * 60, 118)
    signs = () if sign is None else (pee - sign for pee in pees[1:])
    entries = (*((pee, "pee") for pee in pees), *((asked, "sign door") for asked in signs))
    lines = [f"{t // 60:02}:{t % 60:02} {what}" for t, what in sorted(entries)]
    return "; ".join(("06:30 up", *lines, "22:30 pee", "22:40 settled"))


def _middle(page: Diary, instant: str) -> int:
    """Return the minutes by which half of the waits have ended, by the estimate."""
    day, clock = instant.split()
    evidence = page.on(int(day[1:])).days(clock)[-1].evidence_so_far
    return round(Estimate(page.settings.dog, evidence).wait_within(0.5))


def _holds_less_than_without_signs(instant: str) -> Check:
    def check(page: Diary) -> Iterator[str]:
        unasked = tuple(entry for entry in page.entries if entry.kind != "sign")
        without = Diary(page.settings, unasked, page.date, page.learn)
        asked, not_asked = (_middle(one, instant) for one in (page, without))
        if asked >= not_asked:
            yield f"the middle hold is {asked} min with a sign each time, {not_asked} without"

    return check


SIGNS = (
    row("asks-at-1-58-every-time", "§4: a hold that the dog ended by a sign is no evidence",
        f"d1-2 {_every_118_min(sign=3)}; d3 06:30 up", Board("d3 07:00", interval=120)),
    row("holds-1-58-and-asks-for-nothing", "§4: two clear days with holds near the interval widen",
        f"d1-2 {_every_118_min(sign=None)}; d3 06:30 up", Board("d3 07:00", interval=150)),
    row("about-now-says-less", "§5: after a sign the hold says about now, not at least",
        f"d1-2 {_every_118_min(sign=5)}; d3 06:30 up",
        _holds_less_than_without_signs("d3 07:00"), learn=True),
)  # fmt: skip

NIGHTS = (
    row("night-break-from-the-last-pee", "§3: counted from the last pee, not from the last outing",
        "d1 06:30 up; 06:35 pee; 20:00 pee; 22:30 nothing; 22:40 settled night",
        Board("d1 23:10", due="d2 04:00", reasons=("night",), state=("asleep",))),
    row("night-break-of-a-small-dog", "§3: small or prone 6 h",
        "d1 06:30 up; 06:35 pee; 22:25 pee; 22:35 settled night",
        Board("d1 23:10", due="d2 04:25", reasons=("night",), state=("asleep",)), kg=8),
    row("night-break-of-a-prone-dog", "§3: small or prone 6 h",
        "d1 06:30 up; 06:35 pee; 22:25 pee; 22:35 settled night",
        Board("d1 23:10", due="d2 04:25", reasons=("night",)), kg=25, prone=True),
    row("a-night-of-eight-hours", "§3: none where the night is no longer than the dog holds",
        "d1 06:30 up; 06:35 pee; 22:30 pee; 22:35 settled night",
        Board("d1 23:10", due="d2 06:30", reasons=("up",), not_reasons=("night",))),
    row("after-a-pee-at-three", "§3: counted from the last pee",
        "d1 06:30 up; 06:35 pee; 22:30 pee; 22:35 settled night; d2 03:00 pee; 03:05 settled night",
        Board("d2 03:30", due="06:30", no_call=("night",), state=("asleep",)), kg=8),
    row("a-night-on-day-nine", "§3: none by default, after the first nights",
        "d9 06:30 up; 06:35 pee; 20:00 pee; 22:30 nothing; 22:40 settled night",
        Board("d9 23:10", due="d10 06:30", no_call=("night",))),
    row("a-night-over-twelve-hours", "§5: a night over 12 h is a gap",
        "d1-4 07:30 up; 08:00 pee; 10:00 pee; 12:00 pee; 14:00 pee; 16:00 pee; 18:30 pee; "
        "19:00 settled night; d5 07:30 up; 08:00 pee",
        Board("d5 08:05", never=("over a night", "10 h or more", "13 h")), learn=True,
        up="07:30", bed="19:30", arrived="07:30"),
    row("accidents-alone-prove-no-night", "§5: a night over 12 h is a gap; nothing is promised",
        "d1-5 08:00 pee-inside found; 15:00 pee-inside found",
        Board("d5 15:30", never=("10 h or more", "over a night")), learn=True),
    row("three-nights-of-eight-hours", "§5: first what was shown; no range of middles as a promise",
        "d1-3 CLEAR; d4 06:30 up; 06:35 pee",
        Board("d4 07:00", words=("8 h",), never=("9 h 50", "10 h or more")),
        learn=True),
)  # fmt: skip

ROWS = (*DAYS, *SIGNS, *NIGHTS)
