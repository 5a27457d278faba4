"""The rows of the timeline."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from rich.cells import cell_len

from pottyboard.board.widgets.timeline_rows import first_day, heading, rows
from pottyboard.core.model.settings import Board
from tests.core.diary import diary

REASONS = ("since pee", "meal", "poop time", "last thing", "next try")
DAY = (
    diary(kg=8, arrived="06:30")
    .all_at("06:31 up", "06:36 both", "07:02 meal", "07:20 nothing", "07:36 both", "10:30 pee")
    .at("11:00", "pee-inside", found=True, place="hall", dry="10:40")
)


def texts(clock: str, width: int, **more: str) -> list[str]:
    return [row.text.rstrip() for row in rows(DAY.read(clock), width, **more)]


def test_the_plan_stands_beside_the_log() -> None:
    shown = texts("11:30", 50)
    assert " 07:00  07:02  ■ meal" in shown
    assert " 07:17  07:20  ○ nothing came (meal)" in shown
    assert "        11:00  ▲ pee indoors, hall, found, dry at 10:40" in [
        line.replace("…", "10:40") for line in texts("11:30", 80)
    ]


def test_a_late_break_says_so_at_every_width() -> None:
    assert " 09:36  10:30  ● pee (since pee, late)" in texts("11:30", 50)
    assert " 10:30  ● pee (late)" in texts("11:30", 28)


@pytest.mark.parametrize("width", range(28, 60))
def test_no_width_cuts_the_word_late_or_a_reason(width: int) -> None:
    page = diary().on(1).all_at("06:30 up", "06:35 pee").at("09:20", "nothing")
    shown = rows(page.read("09:30"), width)
    (late,) = [row.text for row in shown if "nothing" in row.text]
    assert re.search(r"\blate\b", late)
    assert all(cell_len(row.text) == width for row in shown)
    planned = [row.text for row in shown if row.look in ("planned", "due") and " (" in row.text]
    assert planned
    for text in planned:
        reasons = text.partition(" (")[2].rstrip()
        assert reasons.endswith(")"), text
        for reason in reasons.removesuffix(")").split(", "):
            assert reason.removesuffix("…") in REASONS, text


def by(*people: str, width: int) -> list[str]:
    """Return the rows of a morning that these people logged, one entry each."""
    page = diary(kg=8, arrived="06:30")
    for number, person in enumerate(people):
        page = page.at(f"0{7 + number}:00", "meal", by=person)
    shown = rows(page.read("11:30"), width)
    assert {cell_len(row.text) for row in shown} == {width}
    return [row.text.rstrip() for row in shown if "meal" in row.text and row.event_id]


def test_rows_name_who_logged_them_where_more_than_one_did() -> None:
    assert [line.split()[-1] for line in by("Mina", "Otto", "Mina", width=60)] == [
        "Mina", "Otto", "Mina",
    ]  # fmt: skip
    assert [line.split()[-1] for line in by("Mina", "Otto", width=44)] == ["M", "O"]
    assert [line.split()[-1] for line in by("Mina", "Milo", width=28)] == ["Min", "Mil"]
    assert [line.split()[-1] for line in by("Mina", "Mina", width=60)] == ["meal", "meal"]
    assert [line.split()[-1] for line in by("Mina", "", width=60)] == ["meal", "meal"]


def test_the_line_at_now_parts_what_was_from_what_comes() -> None:
    for clock in ("06:33", "09:00", "11:30", "21:00"):
        shown = rows(DAY.read(clock), 50)
        at = [n for n, row in enumerate(shown) if row.look == "now"]
        assert len(at) == 1
        assert clock in shown[at[0]].text
        assert all(row.look != "due" for row in shown[: at[0]])
        assert all(not row.event_id for row in shown[at[0] :])


def test_the_next_break_is_the_first_after_now() -> None:
    shown = rows(DAY.read("11:30"), 50)
    at = next(n for n, row in enumerate(shown) if row.look == "now")
    assert shown[at + 1].look == "due"
    assert sum(row.look == "due" for row in shown) == 1


def test_the_selected_entry_has_a_pointer() -> None:
    event = DAY.entries[2]
    marked = [row for row in rows(DAY.read("11:30"), 50, event.id) if row.look == "chosen"]
    assert [row.text.rstrip() for row in marked] == ["▸07:00  07:02  ■ meal"]


@given(
    st.integers(16, 90),
    st.text(st.characters(), max_size=60),
    st.text(st.sampled_from("漢🐕\x1b\u202e[/]ab "), max_size=60),
)
def test_every_row_is_exactly_as_wide(width: int, note: str, place: str) -> None:
    page = DAY.at("11:10", "note", note=note).at("11:15", "poop-inside", place=place, by=note)
    shown = rows(page.read("11:30"), width)
    assert {cell_len(row.text) for row in shown} == {width}
    assert len(heading(width, page.read("11:30"))) == width


def test_without_drawn_glyphs_everything_is_ascii() -> None:
    page = DAY.read("11:30")
    settings = replace(page.settings, board=Board(glyphs="ascii"))
    shown = rows(replace(page, settings=settings), 60, DAY.entries[2].id)
    assert all(row.text.isascii() for row in shown)


def test_the_first_day_is_drawn_up_from_the_settings() -> None:
    page = diary(kg=12, arrived="09:00").read("09:00")
    assert [line.rstrip() for line in first_day(page, 36)][:3] == [
        "09:00  break (since pee)",
        "11:00  break (since pee)",
        "13:00  break (since pee)",
    ]
