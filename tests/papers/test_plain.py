"""The situation as plain text, and days of the past as they ended."""

from __future__ import annotations

from datetime import timedelta

import pytest
from msgspec.structs import replace

from pottyboard.core.model.describe import describe
from pottyboard.core.model.printable import printable
from pottyboard.core.review.past_day import DayError, day_as_it_ended
from pottyboard.core.view.situation import Situation
from pottyboard.core.written.numbers import PhoneNumber, read_numbers
from pottyboard.papers.plain import day_text, now_line, now_text, pad_lines
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary


def page(text: str) -> list[str]:
    """Return the lines of a text."""
    return text.splitlines()


def past(diary_page: Diary, day: int, clock: str = "12:00") -> list[str]:
    """Return the lines of day ``day`` as read on the diary's present day."""
    date = diary_page.settings.first_date + timedelta(days=day - 1)
    now = diary_page.instant(clock)
    ended = day_as_it_ended(diary_page.settings, diary_page.entries, date, now)
    return page(day_text(ended))


# --- Now ------------------------------------------------------------------------------------------


def test_a_call_to_a_vet_comes_before_the_break() -> None:
    ill = diary().on(2).all_at(*MORNING).at("07:00", "health", finding="straining")
    text = page(now_text(ill.at("07:30", "health", finding="blood").read("12:00")))
    assert text[2].startswith("! Phone a vet now: straining")
    assert text[3].startswith("  straining to pee: ")
    assert next(n for n, line in enumerate(text) if "LATE" in line) > 3
    assert text.count(text[2]) == 1
    assert "  ! Call your vet soon, today if you can: blood was seen." in text
    noted = ill.at("07:40", "noted", about="straining", note="on our way")
    assert page(now_text(noted.read("07:45")))[2].startswith("REST")


def test_beside_a_call_stands_whom_to_call_the_vets_if_any_is_known() -> None:
    ill = diary().on(2).all_at(*MORNING).at("07:00", "health", finding="straining")
    numbers = read_numbers("Mina 01632 960003; Night vet 01632 960002; Vet 01632 960001")
    view = ill.at("07:30", "health", finding="blood").read("12:00")
    text = page(now_text(with_numbers(view, numbers)))
    vets = "Call: Vet 01632 960001; Night vet 01632 960002"
    assert text[3] == f"  {vets}"
    assert text.count(f"    {vets}") == 1
    noted = ill.at("07:40", "noted", about="straining").at("07:41", "noted", about="blood")
    assert "Call:" not in now_text(with_numbers(noted.read("12:00"), numbers))
    mina = page(now_text(with_numbers(view, numbers[2:])))
    assert mina[3] == "  Call: Mina 01632 960003"


def with_numbers(view: Situation, numbers: tuple[PhoneNumber, ...]) -> Situation:
    home = replace(view.settings.home, numbers=numbers)
    return replace(view, settings=replace(view.settings, home=home))


def test_a_whole_page() -> None:
    first = diary(8, arrived="09:00").all_at("10:05 pee", "11:00 meal", "11:30 pee-inside")
    text = page(now_text(first.at("12:20", "nothing").read("12:30")))
    assert text[0] == "Bramble, day 1 of 14, Mon 2026-03-02, 12:30"
    assert text[2] == "WATCHING: next try 12:35, in 5 min"
    assert text[3] == "  - nothing at 12:20: second try"
    assert "  then 14:05 (since pee)" in text
    near = "tethered beside you, crated with you in the room, or in arm's reach"
    assert f"  ! Nothing came: keep Bramble {near} until it does; never tethered alone" in text
    assert (
        "Since the last: pee 1 h, poop -, meal 1 h 30, drink -, outing 10 min, accident 1 h"
    ) in text
    assert any(
        line.startswith("A break every 1 h 30; 3 h is the longest in these two weeks.")
        for line in text
    )
    assert "In a row: 0 clear days" in text
    assert any(
        line.startswith("  [ ] clean where it happened (pee indoors, 11:30)") for line in text
    )


@pytest.mark.parametrize(
    ("clock", "words"),
    [
        ("10:30", "rest, break 12:05, in 1 h 35"),
        ("11:55", "soon, break 12:05, in 10 min"),
        ("12:05", "due, break 12:05, now"),
        ("12:15", "due, break 12:05, 10 min ago"),
        ("12:30", "late, break 12:05, 25 min ago"),
    ],
)
def test_one_line_for_each_state(clock: str, words: str) -> None:
    line = now_line(diary(8, arrived="09:00").at("10:05", "pee").read(clock))
    assert line == f"Bramble: {words}: last pee 10:05; a break every 2 h"


def test_asleep_alone_and_on_duty_are_said() -> None:
    night = diary().all_at(*CLEAR_DAY).read("23:30")
    assert "Asleep: night" in page(now_text(night))
    left = diary(away="08:30-17:00").all_at("06:30 up", "06:35 both", "08:20 pee", "08:30 left")
    text = page(now_text(left.at("08:31", "duty", by="Ana").read("09:00")))
    assert "Alone since: 08:30" in text
    assert "On duty: Ana" in text


def test_after_two_weeks_the_title_counts_on_without_a_goal() -> None:
    assert now_text(diary().on(20).at("06:30", "up").read("06:40")).startswith(
        "Bramble, day 20, Sat 2026-03-21"
    )


# --- Warnings -------------------------------------------------------------------------------------


def test_a_warning_is_said_with_what_raised_it_until_it_is_noted() -> None:
    ill = diary().on(5).all_at(*MORNING).at("07:10", "health", finding="blood")
    text = page(now_text(ill.read("07:20")))
    start = text.index("Warnings:")
    assert text[start + 1] == "  ! Call your vet soon, today if you can: blood was seen."
    assert text[start + 2] == "    blood: Fri 6 Mar 07:10"
    assert now_line(ill.read("07:20")).startswith("Bramble: call a vet soon; ")

    noted = ill.at("07:30", "noted", about="blood", note="ringing\x1b[31m at nine").read("07:40")
    text = page(now_text(noted))
    assert text[text.index("Warnings:") + 1].startswith("  - noted (ringing")
    assert "\x1b" not in now_text(noted)
    assert "vet" not in now_line(noted)


def test_the_gravest_warning_comes_first() -> None:
    ill = diary().on(5).all_at(*MORNING).at("07:10", "health", finding="pain")
    ill = ill.at("07:12", "health", finding="straining")
    text = page(now_text(ill.read("07:20")))
    assert text[2].startswith("! Phone a vet now")
    assert text[text.index("Warnings:") + 1].startswith("  ! Call your vet soon")
    assert now_line(ill.read("07:20")).startswith("Bramble: call a vet now; ")


# --- A day ----------------------------------------------------------------------------------------


def test_a_day_that_went_well() -> None:
    two_days = diary().on(1).all_at(*CLEAR_DAY).on(2).at("06:30", "up")
    lines = past(two_days, 1)
    assert lines[0] == "Bramble, day 1 of 14, Mon 2026-03-02: clear, no accident, 11 outings"
    assert lines[1] == "A break every 2 h"
    assert "  08:35  08:35  done     pee (since pee)" in lines
    assert "  17:30  17:30  done     meal" in lines
    assert lines[-1] == "  22:40         logged   settled"
    assert len(lines) == 5 + len(CLEAR_DAY)


def test_a_day_says_what_moved_its_interval() -> None:
    lines = past(diary().at("08:00", "pee").at("09:30", "pee-inside").on(2).at("06:30", "up"), 1)
    assert lines[1] == "A break every 1 h 30"
    assert lines[3].startswith("  09:30  Breaks 30 min closer together: an accident seen at 09:30")


@pytest.mark.parametrize("up", ["05:40", "06:30", "07:25", "09:55"])
def test_a_past_day_ends_when_the_next_began(up: str) -> None:
    night = diary().all_at(*CLEAR_DAY).on(2).all_at("01:10 pee", f"{up} up", f"{up} pee")
    first, second = past(night, 1), past(night, 2)
    assert first[0].startswith("Bramble, day 1 of 14, Mon 2026-03-02: clear")
    assert second[0].startswith("Bramble, day 2 of 14, Tue 2026-03-03: open")
    assert any(line.startswith("  01:10") for line in first)
    assert not any(line.startswith("  01:10") for line in second)
    assert any(line.startswith(f"  {up}") for line in second)


def test_today_is_shown_as_it_is_now() -> None:
    today = diary().all_at("06:30 up", "06:35 both")
    assert "  07:00  -- now --" in past(today, 1, "07:00")


@pytest.mark.parametrize("day", [0, 3, -400, 400])
def test_a_day_outside_the_log(day: int) -> None:
    with pytest.raises(DayError, match="from 2026-03-02 to 2026-03-03"):
        past(diary().on(2).at("06:30", "up"), day)


def test_a_day_on_which_the_clocks_change() -> None:
    from datetime import date

    spring = diary(on=date(2026, 3, 28)).all_at(*CLEAR_DAY).on(2).all_at(*CLEAR_DAY).on(3)
    lines = past(spring.at("06:30", "up"), 2)
    assert lines[0].startswith("Bramble, day 2 of 14, Sun 2026-03-29: clear")
    assert "  06:30         done     got up" in lines


# --- Entries and text -----------------------------------------------------------------------------


def test_an_entry_says_all_that_it_carries() -> None:
    first = diary().at("07:00", "water", ml=180.0, by="Ana")
    first = first.at("08:00", "interval", minutes=90.0, note="vet's advice")
    first = first.at("09:00", "pee-inside", found=True, dry="08:30", alone=False, place="hall")
    words = [describe(event, first.settings, whole=True) for event in first.entries]
    assert words == [
        "long drink, 180 ml, by Ana",
        "interval set, 1 h 30, “vet's advice”",
        "pee indoors, hall, found, dry at 08:30, not alone",
    ]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain", "plain"),
        ("  two\r\n lines\t", "two lines"),
        ("\x1b[31mred\x1b[0m\x07", "[31mred[0m"),
        ("\u202eleft\u202c \u200b[/b]", "left [/b]"),
        ("שלום łąka 犬", "שלום łąka 犬"),
        ("x" * 30, "x" * 19 + "…"),
        ("\x00" * 30, ""),
        ("", ""),
    ],
)
def test_printable(text: str, shown: str) -> None:
    assert printable(text, 20) == shown


# --- The pad --------------------------------------------------------------------------------------


def test_what_to_do_about_the_pad_and_why_it_is_a_stop_gap() -> None:
    page = diary().on(4).all_at(*MORNING)
    home = replace(page.settings.home, pads=True)
    seen = replace(page, settings=replace(page.settings, home=home)).read("07:00")
    text = now_text(seen)
    assert "  Pad: Move the pad towards the door today: step 1 of 7 to the door." in text
    assert seen.pad is not None
    assert max(map(len, pad_lines(seen.pad))) <= 80
    assert "  A pad teaches that indoors is allowed" in text
    assert "Pad:" not in now_text(page.read("07:00"))


def test_the_announcement_says_what_to_type() -> None:
    page = Diary(diary().settings, learn=True)
    for day in (1, 2):
        page = page.on(day).all_at(*CLEAR_DAY)
    text = now_text(page.on(3).all_at(*MORNING).read("07:00"))
    assert "[ ] Bramble is known now" in text
    assert "breaks by its own log: pottyboard log routine --measure own-log" in text
    assert "pottyboard log routine --measure fixed-reasons" in text
