"""What stands in for letters that a terminal cannot show, and which terminals those are."""

from __future__ import annotations

import ast
import unicodedata
from pathlib import Path

import pytest

import pottyboard
from pottyboard.core.model.events import KINDS
from pottyboard.core.model.letters import plain, shows_drawn


def test_a_name_keeps_its_letters_without_their_accents() -> None:
    assert plain("Bjørn is with Zoë, François and Łukasz") == (
        "Bjorn is with Zoe, Francois and Lukasz"
    )


def test_signs_of_writing_and_of_the_board_have_a_likeness() -> None:
    assert plain("“yes”, it’s 2×3 – now…") == '"yes", it\'s 2x3 - now~'
    for kind in (kind for kind in KINDS.values() if not kind.mark.isascii()):
        assert plain(kind.mark) in {each.plain for each in KINDS.values() if each.mark == kind.mark}


def test_nothing_that_the_program_writes_becomes_a_question_mark() -> None:
    written = set()
    for path in Path(pottyboard.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                written |= set(node.value)
    shown = {letter for letter in written if not letter.isascii() and _is_shown(letter)}
    assert len(shown) > 40
    assert {letter for letter in shown if plain(letter) in ("", "?")} == set()
    assert {letter for letter in shown if len(plain(letter)) != 1} == set()


def _is_shown(letter: str) -> bool:
    return unicodedata.category(letter) not in ("Cs", "Cf", "Zl", "Zp")


def test_what_has_no_likeness_is_as_wide_as_it_was() -> None:
    assert plain("犬") == "??"
    assert plain("Ж") == "?"
    assert plain("e\u0301") == "e"


@pytest.mark.parametrize(
    ("encoding", "environ", "shows"),
    [
        ("utf-8", {}, True),
        ("utf-8", {"LANG": "en_GB.UTF-8"}, True),
        ("utf-8", {"LANG": "nb_NO.utf8"}, True),
        ("utf-8", {"LANG": "C"}, False),
        ("utf-8", {"LANG": "C", "LC_CTYPE": "C.UTF-8"}, False),
        ("utf-8", {"LC_CTYPE": "C.UTF-8"}, True),
        ("utf-8", {"LANG": "en_GB.UTF-8", "LC_CTYPE": "C.UTF-8"}, True),
        ("utf-8", {"LANG": "en_GB.UTF-8", "LC_ALL": "POSIX"}, False),
        ("utf-8", {"LANG": "de_DE.ISO-8859-1"}, False),
        ("ascii", {"LANG": "en_GB.UTF-8"}, False),
        ("latin-1", {}, False),
        ("no such", {}, False),
        (None, {}, False),
    ],
)
def test_the_encoding_and_the_system_say_what_is_shown(
    encoding: str | None, environ: dict[str, str], shows: bool
) -> None:
    """POSIX: LC_ALL comes before LC_CTYPE, and that before LANG; an empty one is not set."""
    assert shows_drawn(encoding, environ) is shows
