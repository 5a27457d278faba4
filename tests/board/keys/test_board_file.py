"""The settings file of the board: what it says is used, what is wrong is said, nothing is lost."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pottyboard.board.keys.board_file import FILE_NAME, read_board_file, save_board_file
from pottyboard.board.set_up.full_form import SetupScreen
from pottyboard.core.model.questions import QUESTIONS
from pottyboard.store import StoreError
from tests.board.kitchen import Kitchen


def written(home: Path, text: str) -> Path:
    (home / FILE_NAME).write_text(text, "utf-8")
    return home


def test_no_file_says_nothing(tmp_path: Path) -> None:
    file = read_board_file(tmp_path)
    assert (file.colours, file.keys, file.problems) == ("", {}, ())


def test_colours_and_keys_are_read(tmp_path: Path) -> None:
    file = read_board_file(written(tmp_path, 'colours = "daylight"\n[keys]\naccident = "f2"\n'))
    assert (file.colours, file.keys, file.problems) == ("daylight", {"accident": "f2"}, ())


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("colours = ", "is not used: Invalid value"),
        ('colours = "pink"', "colours are evening, daylight or terminal, not “pink”"),
        ("colours = 3", "not “3”"),
        ('colors = "evening"', "“colors” is not known"),
        ('keys = "f2"', "keys are written like this"),
        ("[keys]\naccident = 2", "keys are written like this"),
        ('[keys]\nmeal = "p"', "“pee” and “meal” both want p"),
        ('[keys]\nfood = "f2"', "no action “food”"),
    ],
)
def test_what_is_wrong_is_said_and_the_rest_is_used(tmp_path: Path, text: str, words: str) -> None:
    file = read_board_file(written(tmp_path, text))
    assert len(file.problems) == 1
    assert words in file.problems[0]
    assert FILE_NAME in file.problems[0]
    assert (file.colours, file.keys) == ("", {})


def test_bytes_that_are_no_text_are_said(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).write_bytes(b"colours = \xff")
    assert "is not used" in read_board_file(tmp_path).problems[0]


def test_a_folder_in_its_place_is_said(tmp_path: Path) -> None:
    (tmp_path / FILE_NAME).mkdir()
    assert "cannot be read" in read_board_file(tmp_path).problems[0]
    with pytest.raises(StoreError, match="cannot be read"):
        save_board_file(tmp_path, "daylight")


def test_saving_keeps_what_a_person_wrote(tmp_path: Path) -> None:
    written(tmp_path, '# ours\ncolours = "evening"  # dark\n\n[keys] # Ben\'s hands\nmeal = "f5"\n')
    save_board_file(tmp_path, "daylight")
    text = (tmp_path / FILE_NAME).read_text("utf-8")
    assert "# ours" in text
    assert "# dark" in text
    assert "# Ben's hands" in text
    assert tomllib.loads(text) == {"colours": "daylight", "keys": {"meal": "f5"}}


def test_an_empty_answer_takes_it_back(tmp_path: Path) -> None:
    save_board_file(tmp_path, "daylight", "meal=f5")
    file = save_board_file(tmp_path, "", "")
    assert (file.colours, file.keys) == ("", {})


@pytest.mark.parametrize(
    ("colours", "keys", "words"),
    [("pink", None, "Colours are"), (None, "meal=p", "both want p"), (None, "meal", "is no pair")],
)
def test_what_does_not_fit_is_refused_and_the_file_is_as_it_was(
    tmp_path: Path, colours: str | None, keys: str | None, words: str
) -> None:
    written(tmp_path, 'colours = "daylight"\n')
    with pytest.raises(ValueError, match=words):
        save_board_file(tmp_path, colours, keys)
    assert (tmp_path / FILE_NAME).read_text("utf-8") == 'colours = "daylight"\n'


def test_a_damaged_file_is_not_written_over(tmp_path: Path) -> None:
    written(tmp_path, "colours = ")
    with pytest.raises(StoreError, match="damaged"):
        save_board_file(tmp_path, "daylight")
    assert (tmp_path / FILE_NAME).read_text("utf-8") == "colours = "


def test_only_its_owner_can_read_it(tmp_path: Path) -> None:
    save_board_file(tmp_path, "daylight")
    assert (tmp_path / FILE_NAME).stat().st_mode & 0o777 == 0o600


@given(st.binary(max_size=200))
def test_any_bytes_are_read_without_a_crash(
    tmp_path_factory: pytest.TempPathFactory, raw: bytes
) -> None:
    home = tmp_path_factory.mktemp("home")
    (home / FILE_NAME).write_bytes(raw)
    file = read_board_file(home)
    assert file.colours == ""


async def test_the_board_takes_what_the_file_says(tmp_path: Path) -> None:
    written(tmp_path, 'colours = "daylight"\n[keys]\nmeal = "f5"\n')
    kitchen = Kitchen(tmp_path).at("10:00")
    async with kitchen.board() as board:
        assert board.app.theme == "daylight"
        assert "f5 meal" in board.lines[-1]
        await board.press("f5")
        assert kitchen.last.kind == "meal"


async def test_keys_typed_for_one_time_come_before_the_file(tmp_path: Path) -> None:
    written(tmp_path, '[keys]\nmeal = "f5"\naccident = "f2"\n')
    kitchen = Kitchen(tmp_path).at("10:00")
    async with kitchen.board(POTTYBOARD_KEYS="meal=f6", POTTYBOARD_COLOURS="evening") as board:
        assert "f6 meal" in board.lines[-1]
        assert "f2 accident" in board.lines[-1]
        assert board.app.theme == "evening"


async def test_a_wrong_file_is_said_and_the_board_opens(tmp_path: Path) -> None:
    written(tmp_path, '[keys]\nmeal = "p"\n')
    kitchen = Kitchen(tmp_path).at("10:00")
    async with kitchen.board() as board:
        shown = " ".join(board.text.replace("▌", " ").split())
        assert "both want p" in shown
        await board.press("m")
        assert kitchen.last.kind == "meal"


async def test_the_set_up_changes_the_file_and_the_board_at_once(tmp_path: Path) -> None:
    written(tmp_path, "# ours\n")
    kitchen = Kitchen(tmp_path).at("10:00")
    async with kitchen.board() as board:
        await board.press("S")
        assert board.shows(SetupScreen)
        await board.press(*["enter"] * (len(QUESTIONS) + 1))
        await board.type("meal=p")
        await board.press("ctrl+s")
        assert "both want p" in board.text
        assert board.shows(SetupScreen)
        await board.press("backspace", "f", "5", "ctrl+s")
        assert not board.shows(SetupScreen)
        await board.press("f5")
        assert kitchen.last.kind == "meal"
    assert (tmp_path / FILE_NAME).read_text("utf-8").startswith("# ours")
    assert read_board_file(tmp_path).keys == {"meal": "f5"}
