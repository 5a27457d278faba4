"""The fortnight: its rows as text, whole screens, moving over days and opening one."""

from __future__ import annotations

import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest

from pottyboard.board.screens.fortnight import LEAST_WIDTH, day_words, rows
from pottyboard.board.text.glyphs import GlyphSet
from pottyboard.core.review.fortnight import Fortnight, fortnight
from tests.board.kitchen import Kitchen
from tests.board.test_golden_screens import REST_OF_DAY, kitchen, same_as_golden
from tests.core.diary import CLEAR_DAY, DAY_1, MORNING, Diary, diary

SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]


def weeks(days: int) -> Diary:
    """Return so many days: clear ones, an accident on the third and the tenth, one with gaps."""
    page = diary()
    for day in range(1, days + 1):
        page = page.on(day).all_at(*(MORNING if day % 10 == 7 else CLEAR_DAY))
        if day in (3, 10):
            page = page.at("15:00", "pee-inside", place="hall", found=False)
        if day in (8, 9):
            page = page.all_at("09:00 left", "11:00 visit", "13:00 back")
        page = page.at("13:10", "settled", sleep="nap").at("14:00", "up")
    return page


PAGE = weeks(14)


def look(page: Diary = PAGE, clock: str = "23:00") -> Fortnight:
    return fortnight(page.settings, page.entries, page.instant(clock))


def text(
    view: Fortnight | None = None, width: int = 77, height: int = 22, glyphs: GlyphSet = "drawn",
    chosen: int = 14,
) -> list[str]:  # fmt: skip
    """Return the rows of the page."""
    day = DAY_1 + timedelta(days=chosen - 1)
    drawn = rows(view or look(), day, width, height, glyphs)
    return ["".join(piece for piece, _ in row).rstrip() for row in drawn]


def column(page: list[str], hour: str) -> int:
    """Return where the label of an hour begins."""
    return page[0].index(hour)


# --- The page -------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
def test_fourteen_rows_fit_every_window(size: tuple[int, int]) -> None:
    width, height = size[0] - 3, size[1] - 2
    for glyphs in ("drawn", "ascii"):
        page = text(width=width, height=height, glyphs=glyphs)
        assert len(page) <= height
        assert max(map(len, page)) <= width
        assert [line[1:7] for line in page[1:15]] == [
            f"{day:%a} {day.day:2}" for day in (DAY_1 + timedelta(days=n) for n in range(14))
        ]


@pytest.mark.parametrize("width", [LEAST_WIDTH, 77, 117, 197])
def test_every_row_is_as_wide_as_the_window(width: int) -> None:
    page = text(width=width, height=58)
    assert {len(line) for line in page[1:15]} == {width}
    walls = {tuple(at for at, letter in enumerate(line) if letter == "│") for line in page[1:18]}
    assert len(walls) == 1


def test_a_mark_stands_under_its_hour() -> None:
    page = text(width=197, height=58)
    for day in (3, 10):
        assert abs(page[day].index("▲") - (column(page, "15") + 1)) <= 1
    meals = [line.index("■") for line in page[1:15] if "■" in line]
    assert set(meals) == {column(page, "07") + 1}


def test_clear_unknown_and_accident_are_told_apart_by_sign_and_word() -> None:
    page = text()
    assert "✓ clear" in page[1]
    assert "▲ accident" in page[3]
    assert "? unknown" in page[7]
    plain = text(glyphs="ascii")
    assert ("+ clear" in plain[1], "! accident" in plain[3], "? unknown" in plain[7]) == (True,) * 3


def test_asleep_and_alone_are_different_fills_under_the_marks() -> None:
    page = text(width=197, height=58)
    alone = page[8]
    assert "█" in alone
    assert "█" not in page[6]
    before, after = alone.split("+")
    assert before.endswith("█")
    assert after.startswith("█")
    assert page[5].count("░") > 7 * 5


def test_where_marks_meet_the_graver_one_stands() -> None:
    page = diary().all_at("06:30 up", "10:00 pee", "10:01 nothing").at("10:02", "pee-inside")
    row = text(look(page, "11:00"), chosen=1)[1]
    assert "▲" in row
    assert "●" not in row
    assert "○" not in row


def test_a_meal_moves_over_to_be_seen() -> None:
    page = diary().all_at("06:30 up", "07:01 both", "07:02 meal")
    row = text(look(page, "11:00"), LEAST_WIDTH, chosen=1)[1]
    assert {"◆", "■"} <= set(row)


def test_interval_and_clear_days_stand_beside_each_day() -> None:
    narrow, wide = text(), text(width=117, height=38)
    assert narrow[1].endswith("2h00   1")
    assert narrow[3].endswith("   -")
    assert "┤" in wide[1]
    assert wide[1].split("┤")[1].split() == ["2", "h", "1"]
    shown = look()
    assert wide[14].endswith(str(shown.days[-1].streak))


def test_the_accidents_of_all_days_are_added_up_by_the_clock() -> None:
    page = text(width=117, height=38)
    total = next(line for line in page if line.lstrip().startswith("indoors"))
    assert total.index("2") == page[3].index("▲") == page[10].index("▲")
    assert total.endswith("2 in all")
    poop = next(line for line in page if line.lstrip().startswith("poop"))
    tallest = [at for at, letter in enumerate(poop) if letter == "█"]
    assert column(page, "06") <= tallest[0] <= column(page, "08") + 1
    assert not any("in all" in line for line in text(width=57, height=18))


def test_the_chosen_day_is_told_in_a_sentence() -> None:
    view = look()
    longest, *_, shortest = day_words(view.days[2], view)
    assert longest.startswith("Wed 4 Mar, day 3: 1 accident")
    assert "(15:00 hall)" in longest
    assert longest.endswith("; a break every 2 h, 0 clear days in a row.")
    assert shortest.startswith("Day 3: 1 accident")
    assert text(chosen=3)[-1].endswith("row.")
    assert "▸Wed  4" in text(chosen=3)[3]


def test_an_accident_of_the_night_is_said_to_be_of_the_next_morning() -> None:
    page = diary().all_at(*CLEAR_DAY).on(2).at("05:00", "pee-inside").all_at("06:30 up")
    assert (
        "05:00 the next morning" in day_words(look(page, "07:00").days[0], look(page, "07:00"))[0]
    )


def test_ascii_is_ascii_throughout() -> None:
    for width, height in ((57, 18), (197, 58)):
        assert "\n".join(text(width=width, height=height, glyphs="ascii")).isascii()


def test_with_nothing_logged_there_is_one_empty_row() -> None:
    page = text(look(diary(), "12:00"), chosen=1)
    assert page[1].count("│") == 2
    assert "· open" in page[1]
    assert "day 1: not over yet" in page[-1]


# --- The screen -----------------------------------------------------------------------------------


@pytest.fixture
def house(tmp_path: Path) -> Kitchen:
    """Bramble on the fourth day, 10:05, with an accident on the third."""
    return kitchen(tmp_path).at("10:05", 4)


def fortnight_house(folder: Path, **answers: str) -> Kitchen:
    """Bramble after fourteen days that go like real ones: breakfast drifts, three accidents."""
    house = Kitchen(folder, vet="done", **answers)
    for day in range(1, 15):
        drift = f"07:{2 * day:02} meal"
        morning = () if day == 1 else ("06:31 up", "06:36 both", drift, f"07:{16 + 2 * day} pee")
        house.wrote(*morning, "09:30 pee", *REST_OF_DAY, day=day)
        house.wrote("22:40 settled", day=day, sleep="night")
        if day in (2, 5, 6):
            house.wrote(f"18:2{day} pee-inside", day=day, place="hall", found=False)
        if day in (8, 9, 10):
            house.wrote("09:40 left", "11:00 back", day=day)
    return house


@pytest.mark.parametrize("size", SIZES)
async def test_the_whole_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    async with fortnight_house(tmp_path).at("22:45", 14).board(*size) as board:
        shown = await board.press("F")
    same_as_golden(f"fortnight-{size[0]}x{size[1]}", f"{shown}\n")


async def test_the_whole_screen_in_ascii(tmp_path: Path) -> None:
    async with fortnight_house(tmp_path, glyphs="ascii").at("22:45", 14).board(80, 24) as board:
        shown = await board.press("F")
    assert shown.isascii()
    same_as_golden("fortnight-ascii-80x24", f"{shown}\n")


async def test_no_colour_changes_no_letter(house: Kitchen) -> None:
    async with house.board(80, 24) as board:
        coloured = await board.press("F")
    async with house.board(80, 24, NO_COLOR="1") as board:
        assert await board.press("F") == coloured


@pytest.mark.parametrize("key", ["escape", "F", "q"])
async def test_a_key_opens_it_and_a_key_closes_it(house: Kitchen, key: str) -> None:
    async with house.board(80, 24) as board:
        assert "fortnight" in await board.press("F")
        await board.press(key)
        assert board.lines[-1].startswith(" p pee")


async def test_up_and_down_choose_a_day_and_nothing_is_logged(house: Kitchen) -> None:
    before = house.log
    async with house.board(80, 24) as board:
        assert "▸Thu  5" in await board.press("F")
        assert "▸Wed  4" in await board.press("up")
        assert "▸Mon  2" in await board.press("home", "up")
        assert "▸Thu  5" in await board.press("end", "down", "p")
    assert house.log == before


async def test_a_long_log_turns_by_fourteen_days_and_by_one(tmp_path: Path) -> None:
    house = Kitchen(tmp_path)
    for day in (1, 20, 40):
        house.wrote("12:00 pee", day=day)
    async with house.at("12:30", 40).board(120, 24) as board:
        assert "days 27 to 40" in await board.press("F")
        shown = await board.press("pageup")
        assert "days 13 to 26" in shown
        assert "day 26:" in shown
        assert "days 12 to 25" in await board.press(*["up"] * 14)
        assert "days 1 to 14" in await board.press("home")
        assert "days 27 to 40" in await board.press("end")


async def test_enter_opens_the_day_and_escape_comes_back_to_it(house: Kitchen) -> None:
    async with house.board(80, 24) as board:
        shown = await board.press("F", "up", "enter")
        assert "day 3 · Wed 4 Mar" in shown
        assert "▸Tue  3" in await board.press("left", "escape")


def test_the_board_starts_without_it() -> None:
    code = (
        "import sys, pottyboard.board.app; "
        "print([name for name in sys.modules if 'review' in name or 'fortnight' in name])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize("width", [LEAST_WIDTH, 77])
def test_the_heads_beside_the_rows_stand_over_their_columns_and_read_as_two(width: int) -> None:
    page = text(width=width)
    assert page[0].endswith("  apart row")
    row = page[1]
    assert row[page[0].index("apart") + 1 :].split()[0].replace("h", "").isdigit()
    assert row.rstrip()[-1] in "-0123456789"
    assert len(page[0]) - len(row.rstrip()) in (0, 1, 2, 3)
