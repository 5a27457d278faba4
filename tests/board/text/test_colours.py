"""Every pair of colours that the screens show, read off the screens, in each of the themes.

Sources: WCAG 2.2, success criteria 1.4.3 (text 4.5 to 1, large text 3), 1.4.11 (marks and lines 3)
and 1.4.1 (nothing is told by colour alone). What lies under an open dialog is inactive, and exempt
in both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import NamedTuple, get_args

import pytest
from pygments.styles import (  # type: ignore[import-untyped]
    get_all_styles,
    get_style_by_name,
)
from rich.color import Color
from rich.segment import Segment
from textual.color import Color as NamedColour
from textual.css.query import NoMatches
from textual.theme import BUILTIN_THEMES, Theme

from pottyboard.board.text import colours
from pottyboard.board.text.colours import DAYLIGHT, EVENING, TERMINAL
from pottyboard.board.text.glyphs import LOOKS
from pottyboard.board.widgets.countdown import Countdown
from pottyboard.core.view.situation import State
from pottyboard.papers.page import page
from tests.board.kitchen import Board
from tests.board.pages import after_accidents
from tests.contrast import contrast, rgb

TEXT, MARK = 4.5, 3.0

OPENED = (
    *"WFfhEi", ("question_mark",), ("2", "0"), ("S",), ("escape", "up", "up"),
)  # fmt: skip
"""What is opened from the board, by its keys."""


class Pair(NamedTuple):
    """Two colours that stand one upon the other: by code, or as the terminal names them."""

    text: str
    ground: str


def _pair(segment: Segment) -> Pair:
    style = segment.style
    assert style is not None
    text, ground = (_code(colour) for colour in (style.color, style.bgcolor))
    return Pair(ground, text) if style.reverse else Pair(text, ground)


def _code(colour: Color | None) -> str:
    if colour is None:
        return "default"
    return colour.triplet.hex if colour.triplet is not None else colour.name


def pairs(board: Board) -> Iterator[tuple[Pair, str]]:
    """Yield the pairs on the screen that is open, with the text that is seen in each."""
    screen = board.app.screen
    strips = board.strips
    for name in ("#dialog", "#help-page"):
        try:
            region = screen.query_one(name).region
        except NoMatches:
            continue
        strips = [strip.crop(region.x, region.right) for strip in strips[region.y : region.bottom]]
    for strip in strips:
        for segment in strip:
            if segment.text.strip():
                yield _pair(segment), segment.text.strip()


async def seen(folder: Path, theme: str) -> dict[Pair, str]:
    """Return every pair of colours of a theme, with the first text seen in it."""
    found: dict[Pair, str] = {}

    def look(board: Board) -> None:
        for pair, text in pairs(board):
            # A pair that text uses is kept as such, or the marks in it would excuse it.
            if pair not in found or not _is_text(found[pair]):
                found[pair] = text

    house = after_accidents(folder)
    async with house.at("10:05", 4).board(80, 40, POTTYBOARD_COLOURS=theme) as board:
        for keys in OPENED:
            await board.press(*keys)
            look(board)
            await board.press("escape")
        for state, clock, keys in HOURS:
            house.at(clock, 4)
            await board.tick()
            await board.press(*keys)
            await board.tick()
            assert board.app.screen_stack[0].query_one(Countdown).has_class(f"-{state}"), state
            look(board)
        await board.press("a", "p")
        look(board)
    return found


HOURS = (
    ("soon", "10:50", ""),
    ("due", "11:05", ""),
    ("late", "11:20", ""),
    ("watching", "12:00", "n"),
    ("alone", "12:01", "l"),
    ("asleep", "22:50", ("k", "enter", "p", "z", "n")),
)
"""A day by the clock: what it shows after these keys, so that every state is seen."""


def _is_text(text: str) -> bool:
    return any(letter.isalnum() for letter in text)


@pytest.mark.parametrize("theme", [EVENING, DAYLIGHT], ids=lambda theme: theme.name)
async def test_every_pair_in_use_stands_off_its_ground(tmp_path: Path, theme: Theme) -> None:
    found = await seen(tmp_path, theme.name)
    faint = {
        pair: (round(contrast(rgb(pair.text), rgb(pair.ground)), 2), text)
        for pair, text in found.items()
        if contrast(rgb(pair.text), rgb(pair.ground)) < (TEXT if _is_text(text) else MARK)
    }
    assert faint == {}
    assert len(found) >= 20, "the screens have colours"


async def test_the_terminals_own_colours_suppose_nothing_of_its_ground(tmp_path: Path) -> None:
    """Text is in the terminal's own two colours, or in a block that brings both of its own."""
    found = await seen(tmp_path, TERMINAL.name)
    blocks = {
        Pair("color(0)", "color(11)"),  # black on bright yellow: due
        Pair("color(15)", "color(1)"),  # bright white on red: late, and a phone call
        Pair("color(0)", "color(15)"),  # black on bright white: chosen in a line for typing
        Pair("color(15)", "color(0)"),  # the other way round: where the next letter goes
    }
    assert set(found) - blocks == {Pair("default", "default")}
    assert {"color(1)", "color(11)"} <= {ground for _, ground in found}


@pytest.mark.parametrize(
    ("terminal", "red", "yellow"),
    [
        ("xterm", "#cd0000", "#ffff00"),  # XTerm's resources color1 and color11, from memory
        ("Linux console", "#aa0000", "#ffff55"),  # the sixteen of VGA, from memory
    ],
)
def test_the_blocks_can_be_read_in_the_terminals_people_have(
    terminal: str, red: str, yellow: str
) -> None:
    assert contrast(rgb("#ffffff"), rgb(red)) >= TEXT
    assert contrast(rgb("#000000"), rgb(yellow)) >= TEXT


async def test_with_no_color_nothing_has_a_colour(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")  # the toolkit reads it too
    house = after_accidents(tmp_path)
    async with house.at("11:20", 4).board(80, 40, NO_COLOR="1") as board:
        assert {pair for pair, _ in pairs(board)} == {Pair("default", "default")}
        assert board.app.query_one(Countdown).has_class("-late")
        assert board.app.query_one(Countdown).styles.text_style.reverse


# --- Nothing by colour alone ----------------------------------------------------------------------


def test_every_state_has_a_word_and_marks_that_no_other_has() -> None:
    assert set(LOOKS) == set(get_args(State))
    for look, other in combinations(LOOKS.values(), 2):
        assert look.word != other.word
        assert look.mark != other.mark
        assert look.plain != other.plain
        assert look.dots != other.dots


@pytest.mark.parametrize("theme", [EVENING, DAYLIGHT], ids=lambda theme: theme.name)
def test_due_and_late_differ_in_lightness(theme: Theme) -> None:
    """Who sees no red and green sees the lighter and the darker (G183 of WCAG 2.2: 3 to 1)."""
    assert theme.warning is not None
    assert theme.error is not None
    assert contrast(rgb(theme.warning), rgb(theme.error)) >= MARK


# --- Our own --------------------------------------------------------------------------------------


def codes_of(text: str) -> set[str]:
    """Return the colour codes within a text, in small letters."""
    return {code.lower() for code in re.findall(r"#[0-9a-fA-F]{6}\b", text)}


def published() -> set[str]:
    """Return the codes of palettes that others published, as the libraries at hand carry them.

    The toolkit's own themes, every style of Pygments, the colours that CSS names, and, from memory,
    four that stood here once: red 40 of a design system, yellow of a book on interfaces, ink of
    another design system, and its paper.
    """
    found = {"#b3261e", "#f0b429", "#1d2125", "#f7f8f9"}
    for theme in BUILTIN_THEMES.values():
        found |= codes_of(repr(theme))
    for name in get_all_styles():
        for _, style in get_style_by_name(name):
            found |= {f"#{style[part]}".lower() for part in ("color", "bgcolor") if style[part]}
    return found


def test_no_colour_of_ours_is_taken_from_a_published_palette() -> None:
    package = Path(colours.__file__).parents[2]
    sheets = sorted((package / "board" / "styles").glob("*.tcss"))
    ours = codes_of(Path(colours.__file__).read_text("utf-8")) | codes_of(page("", ()))
    for sheet in sheets:
        ours |= codes_of(sheet.read_text("utf-8"))
    grey = {code for code in ours if code[1:3] == code[3:5] == code[5:7]}
    assert len(ours) > 30
    assert (ours - grey) & published() == set()


# --- On paper and in the browser ------------------------------------------------------------------


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_pages_of_html_stand_off_their_ground(scheme: str) -> None:
    style = page("", ())
    light, _, rest = style.partition("@media screen and (prefers-color-scheme: dark)")
    dark = rest.partition("@media print")[0]
    named = dict(re.findall(r"--(\w+): (#\w+);", {"light": light, "dark": dark}[scheme]))
    of = {name: rgb(NamedColour.parse(code).hex) for name, code in named.items()}
    for text in ("ink", "faint", "mark"):
        for ground in ("paper", "shade"):
            assert contrast(of[text], of[ground]) >= TEXT, (text, ground)
