"""The evening page: what is read first, whole screens, and when the board offers it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from pottyboard.board.screens.evening import page
from pottyboard.core.review.closing import closing
from tests.board.kitchen import Kitchen
from tests.board.test_golden_screens import REST_OF_DAY, kitchen, same_as_golden
from tests.core.diary import CLEAR_DAY, MORNING, Diary, diary

SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]


def lines(page_of: Diary, clock: str = "23:00", width: int = 77, height: int = 22) -> list[str]:
    """Return the rows of the page."""
    found = closing(page_of.settings, page_of.entries, page_of.instant(clock))
    return [line.rstrip() for line in page(found, width, height).plain.split("\n")]


def two_days() -> Diary:
    return diary(vet="done").all_at(*CLEAR_DAY).on(2).all_at(*CLEAR_DAY)


# --- The page -------------------------------------------------------------------------------------


@pytest.mark.parametrize("width", [57, 77, 117, 197])
def test_the_first_lines_say_whether_it_works_and_what_changes_tomorrow(width: int) -> None:
    shown = lines(two_days(), width=width)
    assert shown[0] == "✓ 2 clear days in a row."
    assert shown[1].startswith("  Tomorrow: 2 h 30 between breaks, 30 min more")
    assert any(
        line.startswith("  Breaks 30 min further apart: 2 clear days") for line in shown[2:4]
    )


def test_in_a_high_window_the_first_word_is_large() -> None:
    shown = lines(two_days(), width=117, height=38)
    assert shown[0].count("█") > 10
    assert "✓ 2 clear days in a row." in shown


def test_at_most_one_suggestion_is_made() -> None:
    page_of = diary().on(3).all_at("06:30 up", "06:35 pee", "09:05 pee", "11:40 pee", "13:55 pee")
    _verdict, *rest = lines(page_of, "18:00")
    assert sum(line.startswith("»") for line in rest) == 1


def test_late_and_missed_are_told_in_words() -> None:
    page_of = diary().on(3).all_at("06:30 up", "06:35 pee", "09:05 pee", "11:00 pee")
    text = " ".join(line.strip() for line in lines(page_of, "11:05"))
    assert "08:35 by 30 min" in text
    assert "meal 07:00 missed" in text


def test_an_accident_stands_with_its_cause() -> None:
    page_of = diary().on(3).all_at(*MORNING).at("09:30", "pee-inside", found=False, place="[/]hall")
    text = " ".join(line.strip() for line in lines(page_of.at("09:40", "pee"), "10:00"))
    assert "▲ 09:30 pee indoors, [/]hall, seen:" in text
    assert text.startswith("▲ Mixed: 1 accident, and the break was already late.")


def test_changes_of_tomorrows_plan_are_marked_by_a_sign_and_a_word() -> None:
    page_of = diary(away="09:00-12:00", away_from=3).all_at(*CLEAR_DAY).on(2).all_at(*CLEAR_DAY)
    text = "\n".join(lines(page_of, width=117, height=38))
    assert "+ 09:00 leaving new" in text
    assert "(was " in text
    assert "changes to today's plan" in text


@pytest.mark.parametrize("width", [57, 77, 117, 197])
def test_no_line_is_wider_than_the_page(width: int) -> None:
    page_of = two_days().on(3).all_at(*MORNING).at("08:20", "pee-inside", place="x" * 200)
    for height in (18, 38, 58):
        assert max(map(len, lines(page_of, "23:00", width, height))) <= width


# --- The screen -----------------------------------------------------------------------------------


def evening(folder: Path, **answers: str) -> Kitchen:
    """Bramble at the end of the fourth day, an accident on the third."""
    house = kitchen(folder, **answers)
    return house.wrote(*REST_OF_DAY[:-1], day=4).wrote("22:20 pee", day=4).at("22:25", 4)


@pytest.mark.parametrize("size", SIZES)
async def test_the_whole_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    async with evening(tmp_path).board(*size) as board:
        shown = await board.press("E")
    same_as_golden(f"evening-{size[0]}x{size[1]}", f"{shown}\n")


async def test_the_whole_screen_in_ascii(tmp_path: Path) -> None:
    async with evening(tmp_path, glyphs="ascii").board(80, 24) as board:
        shown = await board.press("E")
        assert (await board.press("end")).isascii()
    assert shown.isascii()
    same_as_golden("evening-ascii-80x24", f"{shown}\n")


async def test_no_colour_changes_no_letter(tmp_path: Path) -> None:
    house = evening(tmp_path)
    async with house.board(80, 24) as board:
        coloured = await board.press("E")
    async with house.board(80, 24, NO_COLOR="1") as board:
        assert await board.press("E") == coloured


@pytest.mark.parametrize("key", ["escape", "E", "q"])
async def test_a_key_opens_it_and_a_key_closes_it(tmp_path: Path, key: str) -> None:
    house = evening(tmp_path)
    before = house.log
    async with house.board(120, 40) as board:
        assert "how today went" in board.text
        assert "plan and what happened" in await board.press("E", "p", "x")
        assert "plan and what happened" not in await board.press(key)
    assert house.log == before


async def test_the_board_offers_it_from_the_last_thing_on(tmp_path: Path) -> None:
    house = evening(tmp_path)
    async with house.at("21:40", 4).board(120, 40) as board:
        assert "how today went" not in board.text
        house.at("21:45", 4)
        assert "E: how today went" in await board.tick()


async def test_the_offer_names_the_households_key(tmp_path: Path) -> None:
    async with evening(tmp_path).board(120, 40, POTTYBOARD_KEYS="evening=f9") as board:
        assert "f9: how today went" in board.text
        assert "plan and what happened" in await board.press("f9")


async def test_on_the_first_evening_it_has_something_to_say(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).wrote("09:05 pee").at("21:50")
    async with house.board(60, 20) as board:
        await board.press("E")
        whole = board.app.screen.page(57, 20)  # type: ignore[attr-defined]
    assert "Too early to tell: day of arrival" in whole.plain


# --- The first night ------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
async def test_the_first_evening_offers_and_tells_what_to_expect(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    house = Kitchen(tmp_path).wrote("17:35 meal", "18:20 pee").at("18:40")
    async with house.board(*size) as board:
        offered = "E: what to expect tonight"
        assert offered in board.text or size == (60, 20)
        shown = " ".join((await board.press("E")).split())
        assert "What to expect tonight" in shown
        assert "Night break At 04:30, 6 h after the last pee" in shown
        assert "nobody" in shown
        page = " ".join(board.app.screen.page(size[0] - 3, size[1]).plain.split())  # type: ignore[attr-defined]
        for words in (
            "No scolding",
            "Water stays",
            "it is a signal",
            "z settled",
            "Call a vet",
        ):
            assert words in page


async def test_it_is_told_on_the_first_evening_alone(tmp_path: Path) -> None:
    house = Kitchen(tmp_path).wrote("09:05 pee").at("14:00")
    async with house.board() as board:
        assert "what to expect tonight" not in board.text
        assert "What to expect tonight" not in await board.press("E")
    later = Kitchen(tmp_path / "2").wrote("09:05 pee").wrote("20:05 pee", day=2).at("22:10", 2)
    async with later.board() as board:
        assert "E: how today went" in board.text
        assert "What to expect tonight" not in await board.press("E")


async def test_a_night_that_can_be_held_has_no_break(tmp_path: Path) -> None:
    house = Kitchen(tmp_path, weight="30").wrote("18:20 pee").at("22:00")
    async with house.board() as board:
        shown = " ".join((await board.press("E")).split())
    assert (
        "None is planned: from the last break to getting up it is no longer than the 8 h" in shown
    )


async def test_every_routine_time_stands_clear_of_its_label(tmp_path: Path) -> None:
    async with evening(tmp_path).board(120, 40) as board:
        shown = await board.press("E")
    lines = [line.strip() for line in shown.splitlines() if ", plan " in line]
    assert len(lines) == 4
    assert all(re.match(r"[a-z ]+ (\d\d:\d\d|not yet), plan ", line) for line in lines), lines
