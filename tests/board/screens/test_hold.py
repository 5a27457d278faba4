"""The Hold screen: the page as text from an invented study, whole screens, and its keys."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from msgspec.structs import replace

from pottyboard.board.screens.hold import LEAST_WIDTH, rows
from pottyboard.board.text.glyphs import GlyphSet
from pottyboard.core.view.hold_report import hold_report
from pottyboard.core.view.situation_views import HoldDay, HoldEstimate, HoldReport
from tests.board.kitchen import Kitchen
from tests.board.test_golden_screens import same_as_golden

SIZES = [(60, 20), (80, 24), (120, 40), (200, 60)]
MINUTES = tuple(range(0, 481, 10))


def falling(median: float, shape: float) -> tuple[float, ...]:
    """Return a curve that has fallen to a half at ``median`` minutes."""
    return tuple(0.5 ** ((minutes / median) ** shape) for minutes in MINUTES)


def of_log(minutes: int) -> float | None:
    """Return the log's own curve: two accidents, and nothing known past three hours."""
    if minutes > 180:
        return None
    return 1.0 if minutes < 130 else 0.9 if minutes < 170 else 0.7


STUDY = HoldReport(
    minutes=MINUTES,
    log=tuple(of_log(minutes) for minutes in MINUTES),
    posterior=falling(230, 2.6),
    prior=falling(190, 1.8),
    accidents=(128, 168),
    longest=(182, 175, 171),
    days=tuple(HoldDay(day, (150 + 6 * day, 190 + 5 * day, 280 + 2 * day)) for day in range(1, 10)),
    estimate=HoldEstimate(
        median_minutes=235,
        range80=(204, 298),
        holds=41,
        accidents=2,
        knows=True,
        words="Fern has held 2 h 50 so far, 3 times; an estimate: 97 of 100 waits stay dry to "
        "1 h 40",
        proof="11 dry waits of 1 h 40 or longer: alone they prove no more than that 7 of 10 such "
        "waits stay dry",
    ),
    limit=0.05,
    told_to=290,
    calling="Breaks come so early that at most 5 waits in 100 should end indoors, by that and by "
    "when poop may come.",
)
UNKNOWN = replace(
    STUDY,
    log=(None,) * len(MINUTES),
    posterior=STUDY.prior,
    accidents=(),
    longest=(),
    days=(HoldDay(1, (130, 190, 290)),),
    estimate=replace(
        STUDY.estimate,
        holds=0,
        accidents=0,
        knows=False,
        words="0 of 5 holds: it does not know this dog yet",
        proof="",
    ),
    calling="Until then the rule alone decides: 2 h between breaks.",
)


def text(
    study: HoldReport = STUDY, width: int = 77, height: int = 22, glyphs: GlyphSet = "drawn"
) -> list[str]:
    """Return the rows of the page."""
    drawn = rows(study, 120, width, height, glyphs)
    return ["".join(piece for piece, _ in row).rstrip() for row in drawn]


def line_with(words: str, page: list[str]) -> str:
    """Return the first line that holds ``words``."""
    return next(line for line in page if words in line)


# --- The page -----------------------------------------------------------------------------------


def test_it_says_first_what_it_believes_and_what_follows_from_it() -> None:
    page = " ".join(text())
    assert page.startswith(
        "Fern has held 2 h 50 so far, 3 times; an estimate: 97 of 100 waits stay dry to 1 h 40."
    )
    assert "so early that at most 5 waits in 100 should end indoors, by that and by when" in page
    assert "11 dry waits of 1 h 40 or longer: alone they prove no more than that 7 of 10" in page


def test_everything_on_the_plot_is_named_beside_it() -> None:
    page = text()
    for sample, words in (
        ("⠒⠒⠒", "best guess"),
        ("▄▄▄", "the log only"),
        ("⠂ ⠂", "dogs this size"),
        ("╌╌╌", "your limit: 95 dry"),
        ("┊", "interval now 2 h"),
        ("▲", "2 accidents"),
        ("●", "longest 3 h 02"),
    ):
        assert sample in line_with(words, page), words


def test_no_two_lines_are_told_apart_by_colour_alone() -> None:
    sets: tuple[GlyphSet, ...] = ("drawn", "ascii")
    for glyphs in sets:
        page = text(glyphs=glyphs)
        names = ("best guess", "the log only", "dogs this size", "your limit")
        legend = {line_with(name, page).partition(name)[0][-4:] for name in names}
        assert len(legend) == 4


def test_accidents_and_longest_holds_stand_under_their_time() -> None:
    page = text()
    axis = page[page.index(line_with("└", page)) + 1]
    indoors, dry = line_with("indoors ", page), line_with("dry  ", page)
    assert axis.index("2 h") <= indoors.index("▲") < indoors.rindex("▲", 0, 50) < axis.index("4 h")
    assert indoors.rindex("▲", 0, 50) <= dry.index("●") < axis.index("4 h")


def test_a_day_has_a_bar_and_its_numbers_the_newest_first() -> None:
    page = text()
    days = [line for line in page if line.startswith("  day ")]
    assert [line[:7].strip() for line in days] == [f"day {day}" for day in range(9, 0, -1)]
    assert days[0].endswith("3 h 24  3 h 55 4 h 50+")
    assert days[-1].endswith("2 h 36  3 h 15  4 h 42")
    for line in days:
        assert line.index("├") < line.index("╋") < line.index("┤")
    assert days[-1].index("├") < days[0].index("├")


def test_with_an_empty_log_it_says_that_it_does_not_know() -> None:
    page = text(UNKNOWN)
    assert page[0] == "0 of 5 holds: it does not know this dog yet."
    assert "Until then the rule alone decides: 2 h between breaks." in " ".join(page)
    assert not any("the log only" in line for line in page)
    assert "none so far" in line_with("indoors ", page)
    assert not any("longest" in line for line in page)


def test_ascii_is_ascii_throughout() -> None:
    page = text(glyphs="ascii")
    assert "\n".join(page).isascii()
    assert "***" in line_with("best guess", page)
    assert "###" in line_with("the log only", page)
    assert "!" in line_with("indoors ", page)


@pytest.mark.parametrize("glyphs", ["drawn", "ascii"])
@pytest.mark.parametrize("width", [LEAST_WIDTH, 77, 117, 197])
@pytest.mark.parametrize("study", [STUDY, UNKNOWN])
def test_no_row_is_wider_than_the_page(study: HoldReport, width: int, glyphs: GlyphSet) -> None:
    assert max(len(line) for line in text(study, width, 38, glyphs)) <= width


@pytest.mark.parametrize(("height", "least", "most"), [(18, 8, 8), (38, 14, 18), (58, 30, 34)])
def test_the_plot_takes_the_room_that_the_words_leave(height: int, least: int, most: int) -> None:
    page = text(STUDY, 117, height)
    plot = [line for line in page if len(line) > 7 and line[7] == "│"]
    assert least <= len(plot) <= most
    assert height < 30 or len(page) <= height


def test_a_real_log_fills_the_page(tmp_path: Path) -> None:
    clocks = ("09:05", "11:00", "12:55", "14:50", "16:45", "18:40", "20:05")
    kitchen = Kitchen(tmp_path).wrote(*(f"{clock} both" for clock in clocks)).at("21:00")
    kitchen.wrote("20:55 pee-inside", place="hall")
    study = hold_report(kitchen.dog_log.settings, kitchen.dog_log.events, kitchen.now)
    page = text(study)
    assert " ".join(page).casefold().startswith(f"{study.estimate.words}.".casefold())
    assert "1 accident" in line_with("indoors ", page)
    assert "longest 1 h 55" in line_with("dry  ", page)
    assert any(line.startswith("  day 1 ") for line in page)


# --- The screen ---------------------------------------------------------------------------------


@pytest.fixture
def kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Kitchen:
    """A kitchen at 10:00 on day 9, whose log is taken to give the invented study."""
    monkeypatch.setattr("pottyboard.board.screens.hold.hold_report", lambda *_: STUDY)
    return Kitchen(tmp_path).at("10:00", day=9)


@pytest.mark.parametrize("size", SIZES)
async def test_the_whole_screen(kitchen: Kitchen, size: tuple[int, int]) -> None:
    async with kitchen.board(*size) as board:
        shown = await board.press("h")
    same_as_golden(f"hold-{size[0]}x{size[1]}", f"{shown}\n")


async def test_its_title_stands_whole_beside_the_state_and_the_break(kitchen: Kitchen) -> None:
    """The name of the page is what its key is called by: common practice, no source."""
    async with kitchen.board(60, 20) as board:
        top = (await board.press("h")).splitlines()[0]
        assert "Bramble · how long " in top
        assert "…" not in top
        assert "LATE: break 06:30" in top


async def test_no_colour_changes_no_letter(kitchen: Kitchen) -> None:
    async with kitchen.board(80, 24) as board:
        coloured = await board.press("h")
    async with kitchen.board(80, 24, NO_COLOR="1") as board:
        assert await board.press("h") == coloured


@pytest.mark.parametrize("key", ["escape", "h", "q"])
async def test_a_key_opens_it_and_a_key_closes_it(kitchen: Kitchen, key: str) -> None:
    async with kitchen.board(80, 24) as board:
        assert "how long the dog can wait" in await board.press("h")
        shown = await board.press(key)
        assert "how long the dog can wait" not in shown
        assert board.lines[-1].startswith(" p pee")


async def test_its_keys_log_nothing(kitchen: Kitchen) -> None:
    async with kitchen.board(80, 24) as board:
        await board.press("h", "p", "a", "3", "x")
        assert kitchen.log == []
        assert "how long the dog can wait" in board.text


async def test_it_scrolls_to_the_first_day(kitchen: Kitchen) -> None:
    async with kitchen.board(60, 20) as board:
        assert "day 1 " not in await board.press("h")
        assert "day 1 " in await board.press("end")
        assert "Fern has held 2 h 50" in await board.press("home")


async def test_a_resize_draws_it_anew(kitchen: Kitchen) -> None:
    async with kitchen.board(60, 20) as board:
        await board.press("h")
        await board.pilot.resize_terminal(120, 40)
        await board.settled()
        same_as_golden("hold-120x40", f"{board.text}\n")


async def test_the_bell_is_heard_over_it(kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch) -> None:
    rung: list[str] = []
    monkeypatch.setattr("pottyboard.board.app.BoardApp.bell", lambda app: rung.append("ding"))
    kitchen.wrote("09:05 both", day=9)
    async with kitchen.board(80, 24) as board:
        await board.press("h")
        kitchen.at("11:10", day=9)
        await board.tick()
        assert rung == ["ding"]


def test_the_board_starts_without_it() -> None:
    code = (
        "import sys, pottyboard.board.app; "
        "print([name for name in sys.modules if 'screens.hold' in name])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
