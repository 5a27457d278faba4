"""Sentences that are shown whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.content import Content

from pottyboard.board.panels import calls, tallies
from pottyboard.board.widgets.whole_lines import Piece, fitting
from tests.board.kitchen import Kitchen
from tests.core.diary import diary

PIECES = (
    Piece((Content("keep the dog in arm's reach"),), 1),
    Piece((Content("last pee at 09:05"),), 0),
    Piece((Content("the rule alone; it knows nothing of this dog yet"), Content("the rule")), 2),
    Piece((Content("then 13:05"),), 3),
)


def shown(width: int, height: int) -> list[str]:
    return [text.plain for text in fitting(PIECES, width, height)]


def test_with_room_for_all_everything_is_shown_in_order() -> None:
    assert shown(60, 4) == [piece.texts[0].plain for piece in PIECES]


def test_room_goes_by_rank_and_a_long_sentence_gives_way_to_its_short_form() -> None:
    assert shown(30, 1) == ["last pee at 09:05"]
    assert shown(30, 2) == ["keep the dog in arm's reach", "last pee at 09:05"]
    assert shown(30, 3)[2:] == ["the rule"]
    assert shown(30, 5)[2:] == [PIECES[2].texts[0].plain, "then 13:05"]


def test_the_first_of_all_is_shown_even_where_it_does_not_fit() -> None:
    assert shown(5, 1) == ["last pee at 09:05"]


@pytest.mark.parametrize("size", [(60, 20), (70, 20), (80, 24), (120, 40)])
async def test_no_sentence_of_the_board_is_cut(tmp_path: Path, size: tuple[int, int]) -> None:
    kitchen = Kitchen(tmp_path).wrote("09:05 pee", "09:20 meal").at("09:30")
    async with kitchen.wrote("09:25 water", "09:28 nothing").board(*size) as board:
        left = size[0] if size[0] < 80 else size[0] - 30 if size[0] < 120 else size[0] - 50
        text = " ".join(" ".join(line[:left] for line in board.lines).split())
    assert "How sure: The board does not know Bramble yet, so a break every 2 h (0 of 5" in text
    assert "Why: After the drink at 09:25" in text


def test_jobs_that_do_not_fit_are_counted() -> None:
    page = diary(vet="done").on(3).all_at("06:30 up", "06:35 pee")
    for clock, place in (("08:00", "hall"), ("09:00", "kitchen"), ("10:00", "landing")):
        page = page.at(clock, "pee-inside", place=place)
    pieces = tallies.jobs(page.read("12:00"), compact=False, answer="A")

    def jobs(width: int, height: int) -> str:
        return fitting(pieces, width, height)[-1].plain

    assert jobs(70, 4).count("enzyme cleaner") == 3
    assert jobs(45, 4).count("clean ") == 3
    assert "enzyme" not in jobs(45, 4), "the details go first"
    assert jobs(70, 3).endswith("and 2 more")


def test_how_it_goes_leaves_out_a_whole_sentence_rather_than_the_end_of_one() -> None:
    page = diary(vet="done").on(3).all_at("06:30 up", "06:35 pee").at("07:00", "pee-inside")
    pieces = tallies.progress(page.read("07:01"), compact=False)
    for height in (8, 6, 5):
        lines = [line.plain for line in fitting(pieces, 44, height)]
        assert lines[-1].startswith("Next step needs"), lines
        assert lines[-1].endswith("."), lines


def test_how_sure_is_never_pushed_out_by_the_length_of_advice() -> None:
    page = diary(vet="done").on(3).all_at("06:30 up", "06:35 pee", "08:35 nothing")
    for clocks, height in ((("08:35",), 3), (("08:35", "08:50", "09:05", "09:35"), 4)):
        tried = page.all_at(*(f"{clock} nothing" for clock in clocks[1:]))
        lines = [text.plain for text in fitting(calls.why(tried.read(clocks[-1])), 56, height)]
        assert any(line.startswith("How sure: ") for line in lines), lines
        assert any(line.endswith("Nothing came: keep Bramble in arm's reach") for line in lines)
        assert any("phone a vet" in line for line in lines) is (len(clocks) > 3), lines


async def test_in_a_small_window_a_question_about_a_silence_is_whole(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path, vet="not yet").wrote("09:05 pee").at("14:30")
    kitchen.wrote("14:20 pee", "20:30 pee").at("20:40")
    async with kitchen.board(80, 24) as board:
        rows = " ".join(" ".join(line[:50] for line in board.lines).split())
    assert "A: nothing happened from 14:20 to 20:30?" in rows


def test_a_job_in_short_leaves_out_whole_words_only() -> None:
    page = diary(vet="not yet").on(3).all_at("06:30 up", "06:35 pee")
    page = page.at("08:00", "pee-inside", place="the corner behind the sofa")
    pieces = tallies.jobs(page.read("12:00"), compact=True, answer="A", setup="S")

    def shown(width: int) -> str:
        return fitting([Piece((Content("first"),), 0), *pieces], width, 2)[-1].plain

    assert shown(42) == "□ clean the corner behind the sofa, 1 more"
    assert shown(39) == "□ clean the corner behind the sofa +1"


async def test_the_day_in_the_top_line_is_never_cut(tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path, people="Bartholomea, Otto").wrote("09:05 pee")
    kitchen.wrote("09:06 duty", by="Bartholomea").at("09:30")
    async with kitchen.board(60, 20) as board:
        first = board.lines[0]
    assert first.split(" on duty")[0].split() == ["Bramble", "·", "day", "1", "Bartholomea"]
