"""Whole screens as plain text, from one log and one clock.

With ``POTTYBOARD_WRITE_GOLDEN=1`` the files are written anew: look at each before you keep it.
"""

from __future__ import annotations

import atexit
import os
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.board.kitchen import Kitchen

GOLDEN = Path(__file__).with_name("golden")

MORNING = ("06:31 up", "06:36 both", "07:02 meal", "07:20 nothing", "07:38 both", "09:30 pee")
REST_OF_DAY = (
    "11:25 pee", "13:05 pee", "13:30 play", "13:46 nothing", "15:10 both", "17:31 meal",
    "17:50 pee", "18:50 poop", "20:05 pee", "22:28 pee",
)  # fmt: skip


def kitchen(folder: Path, **answers: str) -> Kitchen:
    """Bramble on the fourth day: two whole days, an accident on the third, a morning."""
    return _fourth_day(*sorted(answers.items())).copied(folder)


@cache
def _fourth_day(*answers: tuple[str, str]) -> Kitchen:
    """The same, written once for each set of answers, in a folder that goes with the tests."""
    folder = TemporaryDirectory()
    atexit.register(folder.cleanup)
    house = Kitchen(Path(folder.name), vet="booked", **dict(answers))
    house.wrote("09:05 duty", by="Mina").wrote("09:06 pee", *REST_OF_DAY, by="Mina")
    house.wrote("22:40 settled", sleep="night")
    for day in (2, 3):
        house.wrote(*MORNING, *REST_OF_DAY, day=day, by="Otto" if day == 3 else "Mina")
        house.wrote("22:40 settled", day=day, sleep="night")
    house.wrote("12:30 pee-inside", day=3, place="kitchen", found=False, alone=False)
    house.wrote(*MORNING, day=4, by="Mina").wrote("10:40 water", day=4, by="Mina")
    return house


SCREENS = {
    "rest": (4, "10:05", (), [(60, 20), (80, 24), (120, 40), (200, 60)]),
    "late": (4, "11:25", (), [(60, 20), (80, 24), (120, 40), (200, 60)]),
    "night": (3, "23:30", (), [(60, 20), (120, 40)]),
    "watching": (4, "11:25", ("n",), [(60, 20), (80, 24), (120, 40)]),
    "nap": (4, "10:05", ("z", "n"), [(60, 20), (80, 24), (120, 40)]),
    "correct": (4, "10:05", ("up", "up", "e"), [(80, 24)]),
    "help": (4, "10:05", ("question_mark",), [(120, 40)]),
    "setup": (4, "10:05", ("S",), [(60, 20), (80, 24), (120, 40)]),
    "typed": (4, "10:05", ("2", "0"), [(80, 24)]),
}


def same_as_golden(name: str, shown: str) -> None:
    """Compare with the file of that name, or write it."""
    file = GOLDEN / f"{name}.txt"
    if os.environ.get("POTTYBOARD_WRITE_GOLDEN"):
        file.write_text(shown, "utf-8")
    assert shown == file.read_text("utf-8")


@pytest.mark.parametrize(
    ("name", "size"),
    [(name, size) for name, (_, _, _, sizes) in SCREENS.items() for size in sizes],
)
async def test_a_screen(tmp_path: Path, name: str, size: tuple[int, int]) -> None:
    day, clock, keys, _ = SCREENS[name]
    async with kitchen(tmp_path / "home").at(clock, day).board(*size) as board:
        shown = await board.press(*keys)
    shown = shown.replace(str(tmp_path), "")
    same_as_golden(f"{name}-{size[0]}x{size[1]}", f"{shown}\n")


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_without_drawn_glyphs_the_whole_screen_is_ascii(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    house = kitchen(tmp_path, glyphs="ascii")
    async with house.at("11:25", 4).board(*size) as board:
        shown = board.text
    assert shown.isascii(), {letter for letter in shown if not letter.isascii()}
    same_as_golden(f"ascii-{size[0]}x{size[1]}", f"{shown}\n")
