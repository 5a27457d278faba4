"""The Away screen: its page as text, whole screens, its keys, and the question on return."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from msgspec.structs import replace

from pottyboard.board.screens.away import LEAST_WIDTH, rows
from pottyboard.core.away.overview import AwaySituation, away_situation
from pottyboard.core.away.practice import Ladder
from pottyboard.core.model import priors
from pottyboard.store import DogLog
from tests.board.kitchen import Kitchen, instant

GOLDEN = Path(__file__).parents[1] / "golden"
SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]
DAY = (
    "09:10 pee", "11:00 pee", "12:50 pee", "14:45 both", "16:40 pee", "18:30 pee", "20:25 pee",
    "22:20 pee", "22:40 settled",
)  # fmt: skip
MORNING = ("06:31 up", "06:36 both", "07:00 meal", "07:20 poop", "08:30 pee", "08:45 left")
AWAY = {
    "workdays": "mon-fri",
    "leave": "08:30",
    "return": "17:00",
    "absent-from": "4",
    "own-hours": "Otto mon,tue,thu,fri 08:45-16:00",
    "helpers": "Cleo 10:00-15:00 12.50; Zoe 09:00-12:00 8",
}


@pytest.fixture(autouse=True)
def _limit(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plan the visits at a limit that asks for three a day, whatever the default."""
    monkeypatch.setattr(priors, "LIMIT_BALANCED", 0.009)


def house(folder: Path, **answers: str) -> Kitchen:
    """Bramble on day 4, a Thursday, at 09:40: left alone at 08:45, until Otto is back at 16:00."""
    named = {key.replace("_", "-"): answer for key, answer in answers.items()}
    kitchen = Kitchen(folder, **{**AWAY, **named})
    for day in (1, 2, 3):
        kitchen.wrote(*DAY, day=day, by="Mina")
    return kitchen.wrote(*MORNING, day=4, by="Mina").at("09:40", day=4)


def seen(kitchen: Kitchen) -> AwaySituation:
    """Return the days away."""
    dog_log = kitchen.dog_log
    return away_situation(dog_log.settings, dog_log.events, kitchen.now)


def text(kitchen: Kitchen, width: int = 77, away: AwaySituation | None = None) -> list[str]:
    """Return the rows of the page."""
    drawn = rows(away or seen(kitchen), kitchen.dog_log.settings, width)
    return ["".join(piece for piece, _ in row).rstrip() for row in drawn]


def lane(page: list[str], name: str) -> list[str]:
    """Return the fields of a lane, one for each day."""
    line = next(line for line in page if line.startswith(f"{name} ") and "│" in line)
    return [field.rstrip() for field in line.split("│")[1:]]


# --- The page -------------------------------------------------------------------------------------


def test_it_says_first_who_is_due_now(tmp_path: Path) -> None:
    kitchen = house(tmp_path)
    assert text(kitchen)[0] == "Now: Zoe is due at 10:30."
    assert text(kitchen.at("10:50", 4))[0] == (
        "▲ Now: Zoe was due at 10:30, nothing reported for 20 min: call."
    )
    kitchen.wrote("10:55 back", day=4)
    assert text(kitchen.at("11:00", 4))[0].startswith("12 visits, 132.00, mostly at 10:30")


def test_the_week_as_lanes(tmp_path: Path) -> None:
    page = text(house(tmp_path), 117)
    head = next(line for line in page if "Thu 5" in line)
    assert [field.strip() for field in head.split("│")[1:]] == [
        "Thu 5", "Fri 6", "Sat 7", "Sun 8", "Mon 9", "Tue 10", "Wed 11",
    ]  # fmt: skip
    assert lane(page, "covered") == ["yes", "yes", "home", "home", "yes", "yes", "home"]
    assert lane(page, "cost") == ["33.00", "33.00", "", "", "33.00", "33.00", ""]
    mina, otto = lane(page, "Mina"), lane(page, "Otto")
    assert [bool(field) for field in mina] == [True, True, False, False, True, True, True]
    assert [bool(field) for field in otto] == [True, True, False, False, True, True, False]
    alone, visits = lane(page, "alone"), lane(page, "visits")
    assert visits[0].strip() == "+ ++"
    for at, mark in enumerate(visits[0]):
        assert mark in (" ", alone[0][at : at + 1].replace("█", "+"))
    assert lane(page, "breaks")[0].strip() == "•• •• •"
    assert lane(page, "meals")[2].count("■") == 2


def test_a_lane_lies_at_its_time_of_day(tmp_path: Path) -> None:
    page = text(house(tmp_path), 197)
    hours = next(line for line in page if "12" in line and "│" in line).split("│")[1]
    assert hours.index("8") < lane(page, "alone")[0].index("█") < hours.index("12")
    assert hours.index("12") < lane(page, "visits")[0].rindex("+") < hours.index("16")


def test_marks_in_one_cell_become_their_number(tmp_path: Path) -> None:
    kitchen = house(tmp_path, own_hours="Otto thu 09:00-12:00", helpers="Cleo 08:00-18:00")
    page = text(kitchen, LEAST_WIDTH)
    assert sum(int(c) if c.isdecimal() else 1 for c in lane(page, "breaks")[0].strip()) == 3


def test_what_cannot_be_covered_comes_with_what_would(tmp_path: Path) -> None:
    kitchen = house(tmp_path, helpers="Zoe 09:00-11:00 8")
    page = text(kitchen, 117)
    assert lane(page, "covered")[0] == "▲ no"
    joined = " ".join(line[:57].strip() for line in page)
    assert "▲ " in joined
    assert "too long" in joined or "nobody there around the middle" in joined
    assert "or a pad for now" in joined


def test_days_that_are_alike_are_told_once(tmp_path: Path) -> None:
    page = "\n".join(text(house(tmp_path)))
    assert "Thu 5 to Fri 6 Mar: alone 08:45 to 16:00" in page
    assert "Sat 7 to Sun 8 Mar: somebody is home" in page
    assert "  10:30  + Zoe, 8.00: at most 2 h 05 alone" in page
    assert "  08:30  • break before leaving" in page


def test_the_outlook_has_both_courses_and_their_totals(tmp_path: Path) -> None:
    page = "\n".join(text(house(tmp_path)))
    assert "all goes well    1 accident a week" in page
    assert " 4 Thu  5 Mar 2 h 30  2    20.50   2 h 30  2    20.50" in page
    assert "14 Sun 15 Mar" in page
    assert "Up to day 14, if all goes well: " in page
    assert "Up to day 14, with one accident a week: " in page


def test_the_practice_ladder(tmp_path: Path) -> None:
    kitchen = house(tmp_path, absent_from="9", own_hours="")
    kitchen.wrote("09:00 back", day=4, note="calm")
    page = "\n".join(text(kitchen))
    assert "Next 30 min; 4 steps to 2 h 05 before the first day away (Tue 10 Mar)." in page
    assert "  30 min ▸ 1 h ▸ 2 h" in page
    assert "; 2 more today" in page
    assert "  Thu 08:45  15 min, calm" in page
    assert "  4 write how it went: calm, uneasy or distressed" in page


def test_distress_in_a_row_refers_to_somebody_who_knows(tmp_path: Path) -> None:
    kitchen = house(tmp_path)
    away = seen(kitchen)
    ladder: Ladder = replace(away.ladder, concern="distressed 3 times in a row when alone")
    page = text(kitchen, away=replace(away, ladder=ladder))
    assert "▲ Distressed 3 times in a row when alone." in page


def test_a_time_away_that_is_over_asks_for_nothing(tmp_path: Path) -> None:
    nobody = house(tmp_path, helpers="").wrote("16:01 back", day=4)
    before, after = (text(nobody.at(clock, 4)) for clock in ("15:59", "16:02"))
    assert lane(before, "covered")[0] == "▲ no"
    assert lane(after, "covered")[0] == "over"
    assert "that is over" in " ".join(after)
    assert "free" not in " ".join(after)


def test_a_household_that_is_always_home(tmp_path: Path) -> None:
    page = text(house(tmp_path, workdays="", own_hours="").wrote("09:30 back", day=4))
    assert page[0] == "Somebody is home on all of these days."
    assert "set-up" in page[1]
    assert not any("What it costs" in line for line in page)
    assert "Practice absences" in page


def test_away_with_nobody_to_visit_points_to_the_set_up(tmp_path: Path) -> None:
    page = " ".join(text(house(tmp_path, helpers="")))
    assert "Nobody can visit yet" in page


@pytest.mark.parametrize("glyphs", ["drawn", "ascii"])
@pytest.mark.parametrize("width", [LEAST_WIDTH, 77, 116, 117, 118, 197])
def test_no_row_is_wider_than_the_page(tmp_path: Path, width: int, glyphs: str) -> None:
    kitchen = house(tmp_path, glyphs=glyphs, helpers="Cleo 10:00-11:00 1234.50")
    page = text(kitchen, width)
    assert max(map(len, page)) <= width
    assert "\n".join(page).isascii() == (glyphs == "ascii")


def test_names_of_people_are_shown_harmlessly(tmp_path: Path) -> None:
    kitchen = house(
        tmp_path, people="[b]Mina[/, Otto, 犬犬犬犬犬犬", own_hours="Otto thu 9:00-12:00"
    )
    page = text(kitchen)
    assert any(line.startswith("[b]Min… │") for line in page)
    assert any(line.startswith("犬犬犬… │") for line in page)


# --- The screen -----------------------------------------------------------------------------------


def same_as_golden(name: str, shown: str) -> None:
    """Compare with the file of that name, or write it."""
    file = GOLDEN / f"{name}.txt"
    if os.environ.get("POTTYBOARD_WRITE_GOLDEN"):
        file.write_text(shown, "utf-8")
    assert shown == file.read_text("utf-8")


@pytest.mark.parametrize("size", SIZES)
async def test_the_whole_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    async with house(tmp_path).board(*size) as board:
        shown = await board.press("f")
    same_as_golden(f"away-{size[0]}x{size[1]}", f"{shown}\n")


@pytest.mark.parametrize("size", SIZES)
async def test_the_day_with_its_visits(tmp_path: Path, size: tuple[int, int]) -> None:
    kitchen = house(tmp_path).wrote("10:35 pee", day=4, by="Zoe").at("11:05", day=4)
    async with kitchen.board(*size) as board:
        same_as_golden(f"alone-{size[0]}x{size[1]}", f"{board.text}\n")


async def test_without_drawn_glyphs_it_is_ascii(tmp_path: Path) -> None:
    async with house(tmp_path, glyphs="ascii").board(80, 24) as board:
        shown = await board.press("f")
        assert shown.isascii(), {letter for letter in shown if not letter.isascii()}
        assert "alone   | ####" in shown
        last = await board.press("end")
        assert last.isascii()
        assert "4 write how it went" in last
    same_as_golden("away-ascii-80x24", f"{shown}\n")


async def test_no_colour_changes_no_letter(tmp_path: Path) -> None:
    kitchen = house(tmp_path)
    async with kitchen.board(80, 24) as board:
        coloured = await board.press("f")
    async with kitchen.board(80, 24, NO_COLOR="1") as board:
        assert await board.press("f") == coloured


@pytest.mark.parametrize("key", ["escape", "f", "q"])
async def test_a_key_opens_it_and_a_key_closes_it(tmp_path: Path, key: str) -> None:
    async with house(tmp_path).board(80, 24) as board:
        assert "away from home" in await board.press("f")
        assert "away from home" not in await board.press(key)
        assert board.lines[-1].startswith(" p pee")


async def test_its_keys_log_nothing(tmp_path: Path) -> None:
    kitchen = house(tmp_path)
    before = kitchen.log
    async with kitchen.board(80, 24) as board:
        await board.press("f", "p", "a", "3", "x", "k")
        assert kitchen.log == before


async def test_it_scrolls_to_the_practice_at_the_smallest_size(tmp_path: Path) -> None:
    async with house(tmp_path).board(60, 20) as board:
        assert "Practice absences" not in await board.press("f")
        assert "4 write how it went" in await board.press("end")


async def test_arrows_turn_the_weeks_and_never_into_the_past(tmp_path: Path) -> None:
    async with house(tmp_path).board(80, 24) as board:
        assert "5 Mar to 11 Mar" in await board.press("f", "left")
        assert "12 Mar to 18 Mar" in await board.press("right")
        assert "19 Mar to 25 Mar" in await board.press("right")
        assert "12 Mar to 18 Mar" in await board.press("left")
        assert "30 Apr to 6 May" in await board.press(*["right"] * 9)


async def test_a_resize_draws_it_anew(tmp_path: Path) -> None:
    async with house(tmp_path).board(60, 20) as board:
        await board.press("f")
        await board.pilot.resize_terminal(120, 40)
        await board.settled()
        assert board.text.rstrip() == (GOLDEN / "away-120x40.txt").read_text("utf-8").rstrip()


async def test_the_bell_rings_for_a_visit_that_is_due_and_again_when_late(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    kitchen = house(tmp_path)
    async with kitchen.board(80, 24) as board:
        await board.press("f")
        for clock, times in (("10:29", 0), ("10:30", 1), ("10:45", 1), ("10:46", 2), ("11:30", 3)):
            kitchen.at(clock, day=4)
            await board.tick()
            assert len(rung) == times, clock


# --- Alone, and back ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "line", "state"),
    [
        ("09:40", "Zoe at 10:30, in 50 min; alone since 08:45", "alone"),
        ("10:30", "Zoe due at 10:30", "due"),
        ("10:35", "Zoe due at 10:30, 5 min ago", "due"),
        ("10:50", "Zoe was due at 10:30, 20 min ago", "late"),
    ],
)
async def test_alone_counts_to_the_visit(tmp_path: Path, clock: str, line: str, state: str) -> None:
    async with house(tmp_path).at(clock, day=4).board(80, 24) as board:
        assert line in board.text
        assert board.app.screen.query_one("#countdown").has_class(f"-{state}")


async def test_after_the_visits_it_counts_to_the_return(tmp_path: Path) -> None:
    kitchen = house(tmp_path).wrote("10:35 pee", "12:20 pee", "14:50 both", day=4, by="Cleo")
    async with kitchen.at("15:00", day=4).board(80, 24) as board:
        assert "Otto back at 16:00, in 1 h; alone since 08:45" in board.text


async def test_an_accident_alone_says_how_long_after_leaving(tmp_path: Path) -> None:
    kitchen = house(tmp_path).wrote("09:05 pee-inside", day=4, place="hall", alone=True)
    async with kitchen.board(200, 60) as board:
        assert "pee indoors, hall, alone (20 min after leaving)" in board.text


@pytest.mark.parametrize(
    ("key", "note"), [("enter", "calm"), ("c", "calm"), ("u", "uneasy"), ("d", "distressed")]
)
async def test_on_return_it_asks_how_it_went(tmp_path: Path, key: str, note: str) -> None:
    kitchen = house(tmp_path)
    async with kitchen.board(80, 24) as board:
        assert "How was it, 55 min alone?" in await board.press("k")
        shown = await board.press(key)
        assert (kitchen.last.kind, kitchen.last.note) == ("back", note)
        assert f"Saved: came home, {note}, 09:40." in shown
        assert "break due at 09:40" in shown


async def test_escape_logs_the_return_without_a_word(tmp_path: Path) -> None:
    kitchen = house(tmp_path)
    async with kitchen.board(80, 24) as board:
        await board.press("k", "escape")
        assert (kitchen.last.kind, kitchen.last.note) == ("back", "")


async def test_the_return_counts_from_its_key(tmp_path: Path) -> None:
    kitchen = house(tmp_path)
    async with kitchen.board(80, 24) as board:
        assert "How was it, 50 min alone?" in await board.press("5", "k")
        kitchen.at("09:47", day=4)
        await board.press("enter")
        assert kitchen.last.at == instant("09:35", 4)


async def test_a_minute_alone_or_nobody_away_asks_nothing(tmp_path: Path) -> None:
    kitchen = house(tmp_path)
    async with kitchen.board(80, 24) as board:
        await board.press("k", "enter")
        kitchen.at("10:00", day=4)
        await board.press("k")
        assert (kitchen.log[-1], kitchen.last.note) == ("10:00 back", "")
        await board.press("l")
        kitchen.at("10:01", day=4)
        await board.press("k")
        assert (kitchen.log[-1], kitchen.last.note) == ("10:01 back", "")


def test_the_board_starts_without_it() -> None:
    code = (
        "import sys, pottyboard.board.app; print([name for name in sys.modules if name in ("
        "'pottyboard.board.screens.away', 'pottyboard.board.dialogs.report', "
        "'textual.widgets._text_area')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


async def test_telling_and_answering_by_a_key(tmp_path: Path) -> None:
    kitchen = house(tmp_path)

    def told() -> int:
        return sum(event.kind == "told" for event in DogLog(kitchen.dog_log.folder).events)

    async with kitchen.board(80, 24) as board:
        await board.press("f")
        assert told() == 0
        await board.press("t")
        noted = told()
        assert noted
        await board.press("y")  # nothing is proposed: nothing changes
        assert told() == noted
        await board.press("u")
        assert told() == 0
