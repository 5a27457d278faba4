"""No screen contradicts itself: a deterministic choice of looks (see tests/core/coherence.py)."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise

import pytest
from msgspec.structs import replace

from pottyboard.core.review.closing import closing
from pottyboard.core.situation import Situation, situation
from pottyboard.core.view.hold_report import hold_report
from tests.core.coherence import called_by, incoherences, moved, who_calls
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary
from tests.core.made_logs import LOGS

EVERY = 25
"""Minutes between two looks: no divisor of an hour, so that every minute comes up."""

KNOWN = Diary(diary().settings, learn=True)
for _day in range(1, 6):
    KNOWN = KNOWN.on(_day).all_at(*CLEAR_DAY)

PAGES = {
    "a new dog": diary().all_at(*MORNING, "07:00 meal", "08:40 pee", "10:50 nothing"),
    "a known dog, a nap": KNOWN.on(6).all_at(*MORNING, "08:30 pee", "10:00 settled", "13:30 up"),
    "nothing comes": KNOWN.on(6).all_at(*MORNING, "08:35 nothing", "08:50 nothing", "09:05 pee"),
    "up in the night": KNOWN.on(6).at("02:22", "pee").at("02:30", "settled", sleep="night"),
    "a wait that is long": KNOWN.on(6).all_at(*MORNING, "14:00 pee"),
}


def looks(page: Diary) -> Iterator[Situation]:
    """Yield what the board says from midnight to midnight, past the last entry too."""
    for minute in range(0, 24 * 60, EVERY):
        yield page.read(f"{minute // 60:02}:{minute % 60:02}")


@pytest.mark.parametrize("name", PAGES)
def test_no_look_contradicts_itself(name: str) -> None:
    page = PAGES[name]
    found = {
        f"{seen.settings.clock(seen.now)}: {fault}"
        for seen in looks(page)
        for fault in incoherences(seen)
    }
    assert found == set()


OF_A_LOG = timedelta(minutes=85)
"""Between two looks at a made log: no divisor of an hour either."""


def last_days(page: Diary) -> Iterator[Situation]:
    """Yield what the board says from two days before the last entry to half a day past it."""
    last = max(event.at for event in page.entries)
    now = max(page.settings.dog.arrived, last - timedelta(hours=44))
    while now < last + timedelta(hours=12):
        known = [e for e in page.entries if e.logged is None or e.logged <= now]
        yield situation(page.settings, known, now, learn=page.learn)
        now += OF_A_LOG


@pytest.mark.parametrize("name", LOGS)
def test_no_look_at_a_hard_day_contradicts_itself(name: str) -> None:
    looked = [*last_days(LOGS[name])]
    faults = [(seen, fault) for seen in looked for fault in incoherences(seen)]
    faults += [(two, fault) for one, two in pairwise(looked) for fault in moved(one, two)]
    assert {f"{seen.settings.clock(seen.now)}: {fault}" for seen, fault in faults} == set()


OF_THE_PAGES = timedelta(minutes=1295)
"""Between two looks at the evening and the hold: a little earlier each day."""


@pytest.mark.parametrize("name", LOGS)
def test_the_evening_and_the_hold_agree_on_who_calls(name: str) -> None:
    page = LOGS[name]
    now, last = page.settings.dog.arrived, max(event.at for event in page.entries)
    said = set[str]()
    while (now := now + OF_THE_PAGES) < last + OF_THE_PAGES:
        faults = who_calls(page.settings, page.entries, now)
        said |= {f"{page.settings.clock(now)}: {fault}" for fault in faults}
    assert said == set()


# --- The check can fail ---------------------------------------------------------------------------


def faults(seen: Situation) -> set[str]:
    return {rule for rule, _ in incoherences(seen)}


def test_each_contradiction_is_found() -> None:
    seen = PAGES["a known dog, a nap"].read("09:30")
    assert seen.risk is not None
    assert faults(seen) == set()
    wrong = replace(seen, confidence="Chance of an accident before this break: 44 in 100")
    assert faults(wrong) == {"one number"}
    assert faults(replace(seen, risk=replace(seen.risk, at_due=0.3))) >= {"over the limit"}
    assert faults(replace(seen, day=5)) == {"day number"}
    assert faults(replace(seen, advice=("Nothing came: keep it near",))) == {"kept near"}
    slot = next(slot for slot in seen.timeline if slot.event is not None)
    far = replace(slot, planned=slot.at - timedelta(minutes=100))
    assert faults(replace(seen, timeline=(far, *seen.timeline))) == {"paired"}
    planned = [slot for slot in seen.timeline if slot.words in ("since pee", "own log")]
    planned = [slot for slot in planned if slot.status == "planned"]
    twice = replace(planned[-1], at=planned[-1].at + timedelta(minutes=5))
    assert faults(replace(seen, timeline=(*seen.timeline, planned[-1], twice))) == {"apart"}
    old = replace(seen.next_break.reasons[0], words="last pee 22:30; a break every 2 h")
    other = replace(seen, next_break=replace(seen.next_break, reasons=(old,)), timeline=())
    assert "other day" not in faults(other), "22:30 is this home's bedtime too"
    old = replace(old, words="last pee 19:45; a break every 2 h")
    other = replace(seen, next_break=replace(seen.next_break, reasons=(old,)), timeline=())
    assert "other day" in faults(other)


def test_a_call_ahead_of_its_time_and_a_sentence_about_nobody_are_found() -> None:
    seen = PAGES["a known dog, a nap"].read("09:30")
    due = seen.next_break
    late = replace(due.reasons[0], code="model", words="after 23:59 an accident gets too likely")
    wrong = replace(seen, next_break=replace(due, reasons=(late,)))
    assert faults(wrong) == {"called early"}
    nobody = replace(seen, confidence=f"{seen.confidence}; has held 2 h so far, 4 times")
    assert faults(nobody) == {"no subject"}


def called(seen: Situation, code: str, words: str, minutes: int = 0) -> Situation:
    """Return ``seen`` with its break called for a reason, so many minutes before now."""
    due = seen.next_break
    why = replace(due.reasons[0], code=code, words=words, at=seen.now - timedelta(minutes=minutes))
    return replace(seen, next_break=replace(due, reasons=(why,)))


def test_two_next_breaks_and_a_state_that_its_minutes_deny_are_found() -> None:
    seen = PAGES["a known dog, a nap"].read("09:30")
    due = seen.next_break
    later = replace(due, at=due.at + timedelta(minutes=20))
    assert faults(replace(seen, next_break=later)) == {"one break"}
    assert faults(replace(seen, next_break=replace(due, minutes=-3))) == {"state"}
    assert faults(replace(seen, next_break=replace(due, minutes=9))) == {"state"}
    near = replace(due, state="watching")
    assert faults(replace(seen, next_break=near)) == {"watching"}
    asleep = PAGES["a known dog, a nap"].read("12:00")
    assert asleep.asleep == "nap"
    rings = replace(called(asleep, "hold", "no pee logged yet").next_break, minutes=0, state="due")
    assert "nap" in faults(replace(asleep, next_break=rings))


def test_a_break_that_a_planned_meal_calls_is_told_beside_the_next_one() -> None:
    before_breakfast = diary().all_at(*MORNING).read("06:45")
    assert before_breakfast.then == "sooner, at 07:15, after the meal of 07:00"
    assert faults(before_breakfast) == set()
    unsaid = [
        replace(slot, status="due") if slot is before_breakfast.sooner else slot
        for slot in before_breakfast.timeline
    ]
    assert faults(replace(before_breakfast, timeline=tuple(unsaid))) == {"one break"}


def test_another_pee_another_interval_and_yesterdays_bedtime_are_found() -> None:
    seen = PAGES["a known dog, a nap"].read("09:30")
    assert faults(called(seen, "hold", "last pee 08:31; so it is")) == {"one pee"}
    assert faults(called(seen, "hold", "no pee; a break every 7 h")) == {"one interval"}
    assert faults(called(seen, "bedtime", "last thing", minutes=300)) == {"old bedtime"}
    assert faults(replace(seen, streak_days=2)) == {"one streak"}


def test_an_evening_that_says_otherwise_who_calls_is_found() -> None:
    page = KNOWN.on(6).all_at(*MORNING, "08:30 pee")
    known, now = page.entries, page.instant("09:30")
    seen = situation(page.settings, known, now)
    evening, hold = closing(page.settings, known, now), hold_report(page.settings, known, now)
    assert [*called_by(seen, evening, hold)] == []
    told = replace(evening, news="Tomorrow: 99 of them earlier because of this dog's own log.")
    assert [*called_by(seen, told, hold)] != []
    unknown = replace(hold, estimate=replace(hold.estimate, brief="unknown"))
    assert [*called_by(seen, evening, unknown)] != []
    title = replace(next(s for s in seen.timeline if s.kind == "break"), status="planned")
    meal = replace(seen, timeline=(*seen.timeline, replace(title, words="meal")))
    assert [*called_by(meal, evening, hold)] != []


def test_a_break_that_moves_away_by_itself_is_found() -> None:
    seen = PAGES["a known dog, a nap"].read("09:30")
    due = replace(seen.next_break, at=seen.next_break.at + timedelta(minutes=30))
    after = replace(seen, now=seen.now + timedelta(minutes=5), next_break=due)
    assert [rule for rule, _ in moved(seen, after)] == ["moved"]
    assert [*moved(seen, replace(after, recent=seen.recent[1:]))] == []


# --- What was found by looking --------------------------------------------------------------------


@pytest.mark.parametrize("learn", [False, True])
def test_after_the_last_thing_no_break_of_the_day_is_promised(*, learn: bool) -> None:
    """Common practice, no source: the last outing of the evening ends the day's clocks."""
    page = replace(KNOWN.on(6).all_at(*MORNING, "20:00 pee", "22:22 pee"), learn=learn)
    before_bed = page.read("22:25")
    assert before_bed.next_break.state == "rest"
    assert page.clock(before_bed.next_break.at) == "2026-03-08 06:30"
    drank = page.at("22:26", "water").read("22:27")
    assert drank.next_break.at < before_bed.next_break.at, "who is up and about is called again"


def test_a_home_where_nothing_was_ever_logged_is_asked_after_half_a_day() -> None:
    assert diary().read("18:20").silent_since is None
    silent = diary().read("18:31")
    assert silent.confidence.startswith("Nothing logged since 06:30. Was Bramble out?")
    assert faults(silent) == set()


def test_the_pee_that_is_counted_from_is_told_from_a_small_one_since() -> None:
    page = diary().all_at(*MORNING, "08:00 pee").at("08:30", "pee", amount="small")
    words = page.read("08:40").next_break.reasons[0].words
    assert words == "last full pee 08:00; a break every 2 h"
