"""No screen contradicts itself: a deterministic choice of looks (see tests/core/coherence.py)."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import pytest
from msgspec.structs import replace

from pottyboard.core.situation import Situation
from tests.core.coherence import incoherences
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

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
    assert faults(replace(seen, timeline=(planned[-1], twice))) == {"apart"}
    old = replace(seen.next_break.reasons[0], words="last pee 22:30; a break every 2 h")
    other = replace(seen, next_break=replace(seen.next_break, reasons=(old,)), timeline=())
    assert "other day" not in faults(other), "22:30 is this home's bedtime too"
    old = replace(old, words="last pee 19:45; a break every 2 h")
    other = replace(seen, next_break=replace(seen.next_break, reasons=(old,)), timeline=())
    assert faults(other) == {"other day"}


def test_a_call_ahead_of_its_time_and_a_sentence_about_nobody_are_found() -> None:
    seen = PAGES["a known dog, a nap"].read("09:30")
    due = seen.next_break
    late = replace(due.reasons[0], code="model", words="after 23:59 an accident gets too likely")
    wrong = replace(seen, next_break=replace(due, reasons=(late,)))
    assert faults(wrong) == {"called early"}
    nobody = replace(seen, confidence=f"{seen.confidence}; has held 2 h so far, 4 times")
    assert faults(nobody) == {"no subject"}
