"""When the next break is due: naps, nothing came, one break for several reasons, a dog known."""

from __future__ import annotations

from collections.abc import Iterator

from tests.core.diary import Diary
from tests.core.hard_days.rows import Board, Check, at, paired_within, plan_apart, row, written

NAPS = (
    row("waking-from-a-nap", "§3: end of a nap of 30 min or more: now",
        "d1 06:30 up; 06:36 pee; 07:00 settled nap; 07:40 up",
        Board("d1 07:40", due="07:40", reasons=("up",), state=("due",))),
    row("waking-from-a-short-nap", "§3: a nap of less than 30 min asks for nothing",
        "d1 06:30 up; 06:36 pee; 07:00 settled nap; 07:20 up",
        Board("d1 07:20", due="08:36", no_call=("up",), state=("rest",))),
    row("asleep-past-its-interval", "§3: a dog asleep by day is not woken for a clock of the day",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap",
        Board("d1 08:40", state=("asleep",), asleep="nap"), Board("d1 09:30", state=("asleep",))),
    row("out-the-moment-it-stirs", "§3: out the moment it stirs",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap; 09:10 up",
        Board("d1 09:10", due_by="09:10", state=("due", "late"))),
    row("not-woken-for-a-meal-break", "§3: asleep by day: not woken for a clock of the day",
        "d1 06:30 up; 06:36 pee; 07:30 meal; 07:35 settled nap",
        Board("d1 07:50", state=("asleep",))),
    row("asleep-twice-the-interval", "§3: after twice the interval since the last pee it has ended",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap",
        Board("d1 10:30", state=("asleep",)),
        Board("d1 10:40", state=("due", "late"), jobs=("nap",))),
    row("a-nap-of-three-hours", "§3: after 3 h asleep the nap counts as ended and the board asks",
        "d1 06:30 up; 06:31 interval minutes=210; 06:36 pee; 07:00 settled nap",
        Board("d1 09:55", state=("asleep",), no_jobs=("nap",)),
        Board("d1 10:10", not_state=("asleep",), jobs=("nap",))),
    row("a-nap-never-ended", "§3: the nap counts as ended: the evening is planned as ever",
        "d1 06:30 up; 06:36 pee; 14:00 pee; 15:00 settled nap",
        Board("d1 20:00", state=("due", "late")), Board("d1 22:31", reasons=("bedtime",))),
    row("leaving-wakes-it", "§3: leaving still calls a dog that is asleep by day",
        "d1 06:30 up; 06:36 pee; 10:30 pee; 11:00 settled nap",
        Board("d1 11:46", due="11:45", reasons=("leaving",), state=("due",)), away="12:00-14:00"),
    row("last-thing-wakes-it", "§3: last thing still calls a dog that is asleep by day",
        "d1 06:30 up; 06:36 pee; 20:40 pee; 21:20 settled nap",
        Board("d1 22:31", due="22:30", reasons=("bedtime",), state=("due",))),
    row("a-nap-from-noon-to-bedtime", "§3: the nap has ended; last thing calls",
        "d1 06:30 up; 06:36 pee; 11:50 pee; 12:00 settled nap; 15:10 pee; 20:45 pee; "
        "21:00 settled nap",
        Board("d1 14:55", state=("asleep",)), Board("d1 15:05", due="15:00", state=("due",)),
        Board("d1 15:11", asleep="", no_jobs=("nap",)),
        Board("d1 22:31", due="22:30", reasons=("bedtime",), state=("due",))),
    row("a-nap-said-to-go-on", "§3: the board asks; it sleeps on, and is asked about again",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap; 10:40 settled nap",
        Board("d1 10:41", state=("asleep",), no_jobs=("nap",)),
        Board("d1 11:41", state=("due", "late"), jobs=("nap",))),
    row("a-nap-left-alone", "§3: alone counts to the next visit; nobody sees whether it sleeps",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap; 08:10 left",
        Board("d1 08:20", state=("alone",)), Board("d1 08:40", state=("due", "late")),
        Board("d1 11:00", no_jobs=("nap",))),
    row("home-to-a-sleeping-dog", "§3: came home: now, asleep or not",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap; 08:10 left; 08:30 back",
        Board("d1 08:31", due="08:30", reasons=("back",), state=("due",))),
    row("a-sign-in-a-nap", "§3: a sign: now; out the moment it stirs",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap; 08:20 sign door",
        Board("d1 08:21", due="08:20", reasons=("sign",), state=("due",))),
    row("awake-on-time", "§3: not woken for a clock of the day: waking late is no late break",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap; 09:10 up",
        Board("d1 09:11", due="09:10", state=("due",), reasons=("up", "hold"))),
    row("late-before-it-slept", "§3: what was late before it slept is late when it wakes",
        "d1 06:30 up; 06:36 pee; 09:00 settled nap; 09:20 up",
        Board("d1 09:10", state=("asleep",)), Board("d1 09:21", due="08:36", state=("late",))),
    row("a-nap-after-twice-the-interval", "§3: after twice the interval the nap counts as ended",
        "d1 06:30 up; 06:36 pee; 10:50 settled nap",
        Board("d1 10:55", due="08:36", state=("late",), jobs=("nap",))),
    row("a-nap-and-a-meal-in-it", "§3: a meal wakes it: the clocks run again",
        "d1 06:30 up; 06:36 pee; 08:00 settled nap; 08:30 meal",
        Board("d1 08:31", due="08:30", reasons=("up",))),
)  # fmt: skip

NOTHING_CAME = (
    row("watching", "§3: nothing came although it was due: watching, the next try within 30 min",
        "d1 06:30 up; 06:36 pee; 08:36 nothing",
        Board("d1 08:40", due_by="09:06", due_from="08:51", state=("watching",),
              reasons=("retry",))),
    row("three-tries", "§3: 15 min after, at most three times in a row",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:51 nothing; 09:06 nothing",
        Board("d1 09:05", due="09:06"), Board("d1 09:10", due="09:21", state=("watching",))),
    row("four-tries", "§3: then every 30 min by day; after three tries it tells of straining",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:51 nothing; 09:06 nothing; 09:21 nothing",
        Board("d1 08:40", never=("straining",)),
        Board("d1 09:25", due="09:51", state=("watching",), words=("straining",))),
    row("pee-ends-the-watching", "§3: until pee comes",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:51 pee",
        Board("d1 09:05", due="10:51", state=("rest",), no_call=("retry",))),
    row("nobody-needed-that-outing", "§3: nothing, long before it was due: no advice, no retry",
        "d1 06:30 up; 06:36 pee; 07:10 nothing",
        Board("d1 07:15", due="08:36", state=("rest",), no_call=("retry",),
              never=("keep Bramble",))),
    row("nothing-once-settled", "§3: no retry once the dog is settled for the night",
        "d1 06:30 up; 06:36 pee; 20:30 pee; 22:25 nothing; 22:31 settled night",
        Board("d1 22:50", state=("asleep",), no_call=("retry",))),
    row("never-tethered-alone", "§3: tethered beside you, never tethered alone",
        "d1 06:30 up; 06:36 pee; 08:36 nothing",
        Board("d1 08:40", words=("beside you",), never=("tethered, crated",))),
    row("stool-is-no-pee", "§3: until pee comes: stool alone does not end it",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:51 poop",
        Board("d1 08:55", due="09:06", state=("watching",), reasons=("retry",))),
    row("an-accident-ends-it", "§3: until pee comes, indoors too",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:45 pee-inside",
        Board("d1 08:46", state=("rest",), no_call=("retry",), never=("keep bramble",))),
    row("watching-then-asleep", "§3: asleep by day: not woken for a try",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:40 settled nap",
        Board("d1 09:00", state=("asleep",), never=("keep bramble",))),
    row("watching-then-alone", "§3: alone: nobody is there to watch, or to try",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:40 left",
        Board("d1 08:45", state=("alone",), never=("keep bramble",))),
    row("watching-and-home-again", "§3: came home: now, and then watching goes on",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:40 left; 09:30 back; 09:32 nothing",
        Board("d1 09:31", due_by="09:30", state=("due", "late")),
        Board("d1 09:35", due="09:47", state=("watching",), words=("keep bramble",))),
    row("watching-and-a-sign", "§3: a sign: now",
        "d1 06:30 up; 06:36 pee; 08:36 nothing; 08:40 sign door",
        Board("d1 08:41", due="08:40", reasons=("sign",), state=("due",))),
    row("watching-and-leaving", "§3: within 15 min before leaving, watched or not",
        "d1 06:30 up; 06:36 pee; 08:26 nothing",
        Board("d1 08:35", due="08:41", state=("watching",), reasons=("retry",)),
        Board("d1 08:46", due_by="08:45", state=("due",), reasons=("leaving",)),
        away="09:00-12:00"),
    row("nothing-in-the-night", "§3: none once the dog is settled for the night",
        "d1 06:30 up; 06:36 pee; 22:30 pee; 22:40 settled night; d2 02:30 nothing",
        *(Board(f"d2 {clock}", due="06:30", reasons=("up",), no_call=("retry",),
                state=("asleep",), never=("keep bramble",)) for clock in ("02:31", "02:50"))),
    row("a-night-break-that-brought-nothing", "§3: counted from the last pee; not again at once",
        "d1 06:30 up; 06:35 pee; 20:00 pee; 22:30 nothing; 22:40 settled night; d2 04:00 nothing",
        Board("d2 04:01", due_from="06:00", state=("asleep",), no_call=("retry",))),
    row("yesterdays-tries", "§3: what came before the waking asks no more",
        "d1 06:30 up; 06:36 pee; 20:30 pee; 22:25 nothing; 22:31 settled night; d2 06:30 up",
        Board("d2 06:31", due="06:30", reasons=("up",), no_call=("retry",),
              never=("keep bramble",))),
)  # fmt: skip

UP_AT_NIGHT = (
    row("out-in-the-night", "§3: after a night's outing the next break is the morning's",
        "d8 06:30 up; 06:36 pee; 22:30 pee; 22:40 settled night; d9 02:22 pee",
        *(Board(f"d9 {clock}", due="06:30", reasons=("up",), state=("asleep",), asleep="night")
          for clock in ("02:23", "02:40", "05:00")),
        Board("d9 02:24", words=("asleep again from 02:22",)),
        Board("d9 02:50", never=("asleep again",)), paired_within(90, "d9 02:23")),
    row("up-in-the-night", "§3: got up: now, and not for last evening's bedtime",
        "d8 06:30 up; 06:36 pee; 21:00 pee; 22:40 settled night; d9 02:22 up",
        Board("d9 02:23", due="02:22", reasons=("up",), no_call=("bedtime",))),
    row("still-up-after-an-outing", "§3: bedtime was last evening",
        "d8 06:30 up; 06:36 pee; 21:00 pee; 22:40 settled night; d9 02:22 pee; 02:30 up",
        Board("d9 02:31", due="04:22", reasons=("hold",), no_call=("bedtime",), asleep="")),
    row("an-accident-in-the-night", "§3: bedtime was last evening",
        "d8 06:30 up; 06:36 pee; 21:00 pee; 22:40 settled night; d9 02:22 pee-inside",
        Board("d9 02:23", due="06:30", reasons=("up",), no_call=("bedtime",))),
)  # fmt: skip

ONE_BREAK = (
    row("states-by-the-clock", "§3: rest over 15 min to go, soon 15 or less, due to 15 late",
        "d1 06:30 up; 06:36 pee",
        Board("d1 08:20", state=("rest",)), Board("d1 08:21", state=("soon",)),
        Board("d1 08:36", state=("due",)), Board("d1 08:51", state=("due",)),
        Board("d1 08:52", state=("late",))),
    row("drink-and-hold-in-one", "§3: one break for what falls due within 10 min, at the earlier",
        "d1 06:30 up; 06:36 pee; 08:12 water",
        Board("d1 08:20", due="08:32", reasons=("drink", "hold"))),
    row("fourteen-minutes-apart", "§3: within 10 min while the dog is not known",
        "d1 06:30 up; 06:36 pee; 08:07 meal",
        Board("d1 08:10", due="08:22", reasons=("meal",), not_reasons=("hold",))),
    row("an-outing-serves-what-it-served", "§3: one break serves every reason due within 10 min",
        "d1 06:30 up; 06:36 pee; 08:12 water; 08:25 pee",
        Board("d1 08:26", due="10:25", no_call=("drink",))),
    row("home-right-after-an-outing", "§3: never less than 10 min after the last success",
        "d1 06:30 up; 06:36 pee; 11:00 left; 12:00 pee; 12:06 back",
        Board("d1 12:07", due="14:00", no_call=("back",))),
    row("a-meal-right-before-an-outing", "§3: never less than 10 min after the last success",
        "d1 06:30 up; 06:36 pee; 11:40 meal; 11:44 pee",
        Board("d1 11:45", due_from="11:54", reasons=("meal",))),
    row("a-sign-right-after-an-outing", "§3: a sign excepted",
        "d1 06:30 up; 06:36 pee; 06:40 sign door",
        Board("d1 06:41", due="06:40", reasons=("sign",), state=("due",))),
    row("came-home", "§3: came home: now",
        "d1 06:30 up; 06:36 pee; 07:00 left; 07:50 back",
        Board("d1 07:51", due="07:50", reasons=("back",))),
    row("before-leaving", "§3: within 15 min before leaving; leaving keeps its own window",
        "d1 06:30 up; 06:36 pee; 08:00 pee",
        Board("d1 08:05", due="08:15", reasons=("leaving",)), away="08:30-12:00"),
    row("last-thing", "§3: last thing, at bedtime",
        "d1 06:30 up; 06:36 pee; 21:40 pee", Board("d1 21:55", due="22:30", reasons=("bedtime",))),
    row("digestion-of-a-small-dog", "§3: small 60 min after the meal if no stool since",
        "d1 06:30 up; 06:35 pee; 07:00 meal; 07:15 pee",
        Board("d1 07:30", due="08:00", reasons=("digestion",)), kg=8),
    row("digestion-of-a-large-dog", "§3: large 90 min after the meal if no stool since",
        "d1 06:30 up; 06:35 pee; 07:00 meal; 07:15 pee",
        Board("d1 07:30", due="08:30", reasons=("digestion",)), kg=30),
    row("stool-serves-the-meal", "§3: again at its digestion time only if no stool since",
        "d1 06:30 up; 06:35 pee; 07:00 meal; 07:15 both",
        Board("d1 07:30", due="09:15", reasons=("hold",), no_call=("digestion",))),
    row("no-two-breaks-crowded", "§3: a plan never shows two breaks less than 15 min apart",
        "d1 06:30 up; 06:36 pee; 07:00 meal; 07:15 pee; 08:00 water; 08:03 play",
        *(plan_apart(f"d1 {clock}") for clock in ("06:40", "07:05", "07:20", "08:05", "12:00"))),
    row("a-hold-right-before-a-meals-break", "§3: a plan never shows two breaks under 15 min apart",
        "d1 06:30 up; 06:36 both; 09:35 pee; 11:30 pee; 13:32 pee; 15:32 pee",
        plan_apart("d1 15:40"), plan_apart("d1 17:25")),
    row("last-thing-within-ten-minutes", "§3: one break serves what falls due within 10 min",
        "d1 06:30 up; 06:36 pee; 20:22 pee",
        Board("d1 21:55", due="22:22", reasons=("hold", "bedtime"))),
    row("last-thing-in-a-quarter-of-an-hour", "§3: within 10 min while the dog is not known",
        "d1 06:30 up; 06:36 pee; 20:16 pee",
        Board("d1 21:55", due="22:16", reasons=("hold",), not_reasons=("bedtime",))),
    row("no-two-breaks-crowded-once-known", "§3: a plan never shows two breaks under 15 min apart",
        "d1-5 CLEAR; d6 06:30 up; 06:35 both; 07:00 meal",
        *(plan_apart(f"d6 {clock}") for clock in ("06:36", "07:05", "12:00", "17:35", "20:00")),
        learn=True),
)  # fmt: skip


def _planned(instant: str, least: int, most: int) -> Check:
    """Return the check that a day has so many outings, done and planned."""

    def check(page: Diary) -> Iterator[str]:
        found = at(page, instant)
        breaks = [slot for slot in found.timeline if slot.kind == "break" and slot.at > found.now]
        number = found.days[-1].outings + len(breaks)
        if not least <= number <= most:
            yield f"{instant}: {number} outings, {', '.join(slot.words for slot in breaks)}"

    return check


def _last_thing_in_one(page: Diary) -> Iterator[str]:
    """Yield each evening on which a break 11 to 20 min before bedtime leaves out the last thing."""
    asked = 0
    for minute in range(18 * 60 + 30, 21 * 60 + 30, 3):
        evening = written(page, f"d7 {minute // 60:02}:{minute % 60:02} pee")
        due = at(evening, "d7 21:50").next_break
        if not "22:10" <= evening.on(7).clock(due.at) < "22:20":
            continue
        asked += 1
        if "bedtime" not in (reason.code for reason in due.reasons):
            yield f"out at {evening.on(7).clock(due.at)}, and again for the last thing"
    if not asked:
        yield "no break falls due 11 to 20 min before bedtime"


KNOWN = (
    row("last-thing-once-known", "§3: one break for what falls due within 20 min once it is known",
        "d1-6 CLEAR; d7 06:30 up; 06:35 both; 17:30 meal; 17:50 both",
        _last_thing_in_one, learn=True),
    row("waking-soon-after-a-pee-once-known",
        "§3: known: a nap's end calls only if the last pee is half the interval ago",
        "d1-4 CLEAR; d5 06:30 up; 06:35 both; 09:00 pee; 09:05 settled nap; 09:45 up",
        Board("d5 09:45", no_call=("up",), not_state=("due", "late")), learn=True),
    row("waking-late-after-a-pee-once-known", "§3: known: half the interval ago or more, it calls",
        "d1-4 CLEAR; d5 06:30 up; 06:35 both; 09:00 pee; 09:05 settled nap; 10:40 up",
        Board("d5 10:40", due_by="10:40", state=("due", "late")), learn=True),
    row("the-morning-always", "§3: known: the morning always",
        "d1-6 CLEAR; d7 05:50 pee; 05:55 settled night; 06:30 up",
        Board("d7 06:30", due="06:30", reasons=("up",)), learn=True),
    row("a-drink-once-known", "§3: known: a long drink is evidence, no call of its own",
        "d1-6 CLEAR; d7 06:30 up; 06:35 both; 09:00 pee; 09:05 water",
        Board("d7 09:10", no_call=("drink",)), learn=True),
    row("play-once-known", "§3: known: play is evidence, no call of its own",
        "d1-6 CLEAR; d7 06:30 up; 06:35 both; 09:00 pee; 09:10 play",
        Board("d7 09:15", no_call=("play",)), learn=True),
    row("a-meal-once-known", "§3: known: a meal is evidence; digestion keeps its call",
        "d1-6 CLEAR; d7 06:30 up; 06:35 both; 07:00 meal",
        Board("d7 07:05", no_call=("meal",)), learn=True),
    row("a-day-of-the-first-three", "§3: a realistic count is 10 to 13 outings on days 1 to 3",
        "d1 06:30 up; 06:35 both", _planned("d1 06:40", 10, 13)),
    row("a-day-of-the-first-week", "§3: a realistic count is 8 to 10 on days 4 to 7",
        "d1-4 CLEAR; d5 06:30 up; 06:35 both", _planned("d5 06:40", 8, 10), learn=True),
    row("a-day-of-the-second-week", "§3: a realistic count is 6 to 9 after that",
        "d1-8 CLEAR; d9 06:30 up; 06:35 both", _planned("d9 06:40", 6, 9), learn=True),
)  # fmt: skip

ROWS = (*NAPS, *NOTHING_CAME, *UP_AT_NIGHT, *ONE_BREAK, *KNOWN)
