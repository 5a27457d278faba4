"""The curve of the coming risk: as text from a given risk, and on the board."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from pottyboard.board.widgets.risk_curve import RiskCurve, draw
from pottyboard.core.model import priors
from pottyboard.core.model.localtime import percent_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Situation, situation
from pottyboard.core.view.situation_views import HoldEstimate, RiskEstimate
from tests.board.kitchen import Kitchen, instant

KNOWN = HoldEstimate(240, (200, 300), 20, 1, True, "after 20 holds: likely holds 3 h", "")
UNKNOWN = replace(KNOWN, knows=False, words="2 of 5 holds: it does not know this dog yet")


@pytest.fixture
def now(tmp_path: Path) -> Situation:
    """Return 15:30 on day 1, the last pee at 15:00, so that the break is due at 17:00."""
    kitchen = Kitchen(tmp_path).wrote("15:00 both")
    return situation(kitchen.dog_log.settings, kitchen.dog_log.events, instant("15:30"))


def rising(start: float = 0.0, limit: float = 0.05) -> RiskEstimate:
    """Return a chance that rises by 10 % in an hour, for four hours from 15:30."""
    curve = tuple(
        (instant("15:30") + timedelta(minutes=10 * step), start + step / 60) for step in range(25)
    )
    return RiskEstimate(now=start, at_due=0.15, limit=limit, curve=curve, over_from=None)


def text(view: Situation, width: int = 48, height: int = 9, **changes: Any) -> list[str]:
    """Return the rows drawn for ``view``, where the dog is known, after ``changes`` to it."""
    view = replace(view, **{"hold": KNOWN, "risk": rising(), **changes})
    return ["".join(piece for piece, _ in row).rstrip() for row in draw(view, width, height)]


def plain(settings: Settings) -> Settings:
    """Return the settings with ASCII glyphs."""
    return replace(settings, board=replace(settings.board, glyphs="ascii"))


def due_at(view: Situation, clock: str) -> Any:
    """Return the next break moved to a clock time."""
    return replace(view.next_break, at=instant(clock))


def test_the_curve_rises_past_the_limit_and_the_break_is_marked(now: Situation) -> None:
    assert text(now) == [
        "Chance of an accident if nobody goes out",
        "       20%│              ┊⢀⡠⠔⠁",
        "          │            ⢀⡠⠒⠁",
        "          │         ⢀⠤⠒⠁ ┊",
        "          │      ⣀⠤⠊⠁    ┊",
        "  limit 5%│╌╌╌⣀⠔⠊╌╌╌╌╌╌╌╌┊╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌",
        "        0%│⡠⠔⠉           ┊",
        "          └┬───┬─────────┬───────┬─────────┬────",
        "          now       break 17:00          19:00",
    ]


def test_in_ascii_it_reads_the_same(now: Situation) -> None:
    rows = text(now, settings=plain(now.settings))
    assert rows[1].lstrip().startswith("20%|")
    assert "limit 5%|" in rows[5]
    assert "".join(rows).isascii()


@pytest.mark.parametrize("limit", [0.03, 0.05, 0.08])
def test_the_limit_has_its_line_and_stands_a_quarter_up(now: Situation, limit: float) -> None:
    rows = text(now, risk=rising(limit=limit), height=13)
    assert rows[1].startswith(f"{4 * limit:10.0%}│")
    label = f"limit {limit:.0%}│"
    place = next(at for at, row in enumerate(rows) if row.lstrip().startswith(label))
    assert rows[place].count("╌") > 20
    assert place == 8


def test_a_break_that_is_due_is_marked_now(now: Situation) -> None:
    rows = text(now, next_break=due_at(now, "15:30"))
    assert rows[1][11] == "┊"
    assert "break now" in rows[-1]


def test_a_break_past_the_end_is_pointed_to(now: Situation) -> None:
    rows = text(now, next_break=due_at(now, "22:30"))
    assert not any("┊" in row for row in rows)
    assert rows[-1].endswith("break 22:30 ▸")


def test_a_dog_far_past_its_time_has_a_line_along_the_top(now: Situation) -> None:
    rows = text(now, risk=rising(start=0.5))
    assert rows[1] == "  over 20%│" + "⠉" * 37


def test_while_too_little_is_logged_it_says_not_known_yet(now: Situation) -> None:
    assert text(now, hold=UNKNOWN) == [
        "Chance of an accident if nobody goes out",
        "Not known yet",
        "2 of 5 holds: it does not know this dog yet",
    ]


def test_at_night_and_before_the_first_pee_it_says_why_not(now: Situation) -> None:
    assert text(now, risk=None, asleep="night")[1:] == [
        "Not known yet",
        "The night is not counted.",
    ]
    assert text(now, risk=None)[1:] == [
        "Not known yet",
        "It counts from the first pee that is logged.",
    ]


@pytest.mark.parametrize("size", [(0, 0), (39, 9), (48, 5)])
def test_nothing_is_drawn_where_there_is_no_room(now: Situation, size: tuple[int, int]) -> None:
    assert text(now, *size) == []


@pytest.mark.parametrize("size", [(40, 6), (48, 9), (78, 14)])
def test_every_row_fits_its_place(now: Situation, size: tuple[int, int]) -> None:
    rows = text(now, *size)
    assert len(rows) == size[1]
    assert all(len(row) <= size[0] for row in rows)


# --- On the board -------------------------------------------------------------------------------


@pytest.fixture
def known(tmp_path: Path) -> Kitchen:
    """Return a kitchen with six holds on day 1, at 20:30."""
    clocks = ("09:05", "11:00", "12:55", "14:50", "16:45", "18:40", "20:20")
    return Kitchen(tmp_path).wrote(*(f"{clock} both" for clock in clocks)).at("20:30")


@pytest.mark.parametrize("size", [(120, 40), (200, 60)])
async def test_it_stands_beside_the_countdown(known: Kitchen, size: tuple[int, int]) -> None:
    async with known.board(*size) as board:
        assert "Chance of an accident if nobody goes out" in board.text
        assert f"limit {percent_words(priors.LIMIT_BALANCED)}│" in board.text
        assert "now" in board.text


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (80, 40), (200, 30)])
async def test_small_windows_have_the_words_alone(known: Kitchen, size: tuple[int, int]) -> None:
    async with known.board(*size) as board:
        assert "if nobody goes out" not in board.text
        assert "How sure: " in board.text
        assert "in 100 (you allow " in " ".join(board.text.split())


async def test_it_is_painted_again_only_when_a_row_differs(known: Kitchen) -> None:
    async with known.board() as board:
        curve = board.app.screen.query_one(RiskCurve)
        before, painted = curve.text, []
        curve.refresh = lambda *_, **__: painted.append("again")  # type: ignore[assignment]
        known.at("20:31")
        await board.tick()
        assert curve.text == before
        assert not painted
        known.at("21:01")
        await board.tick()
        assert curve.text != before
        assert painted == ["again"]
