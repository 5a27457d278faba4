"""The list of actions: complete, without clashes, and the only source of keys."""

from __future__ import annotations

import re

import pytest

from pottyboard.board.app import BoardApp
from pottyboard.board.keys.actions import ACTIONS, BY_ID, footer
from pottyboard.board.keys.bindings import bindings
from pottyboard.board.keys.keymap import KeymapError, check_keymap, key_words, keys_of, read_keymap
from pottyboard.board.screens.day import DayScreen
from pottyboard.core.model.events import KINDS


def test_ids_and_words_are_unique() -> None:
    assert len(BY_ID) == len(ACTIONS)
    assert len({action.words for action in ACTIONS}) == len(ACTIONS)


def test_the_default_keys_do_not_clash() -> None:
    assert check_keymap({}) == {}


def test_every_kind_of_entry_can_be_logged_from_the_board() -> None:
    assert {kind for action in ACTIONS for kind in action.kinds} == set(KINDS)


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.id)
def test_every_action_can_be_run(action: object) -> None:
    call = action.call  # type: ignore[attr-defined]
    place, name = re.fullmatch(r"(screen|app)\.(\w+)(?:\(.*\))?", call).groups()  # type: ignore[union-attr]
    assert hasattr(DayScreen if place == "screen" else BoardApp, f"action_{name}")


def test_every_action_has_a_help_and_every_key_its_id() -> None:
    assert all(action.help and action.words for action in ACTIONS)
    assert {binding.id for binding in bindings()} == {a.id for a in ACTIONS if a.key}
    assert not any(binding.priority for binding in bindings())


def test_the_footer_has_about_seven_keys_and_help_comes_last() -> None:
    assert [action.footer for action in footer()] == list(range(1, 9))
    assert footer()[-1].id == "help"


def test_a_keymap_moves_a_key() -> None:
    keymap = read_keymap("accident=f2 pee=f1,K")
    assert keys_of(BY_ID["accident"], keymap) == ("f2",)
    assert key_words(BY_ID["pee"], keymap) == "f1 or K"
    assert key_words(BY_ID["poop"], keymap) == "o"


def test_two_actions_may_swap_their_keys() -> None:
    assert read_keymap("pee=o poop=p") == {"pee": "o", "poop": "p"}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("meal=p", "“pee” and “meal” both want p."),
        ("meal=f1 pee=f1", "“pee” and “meal” both want f1."),
        ("help=e", "“correct” and “help” both want e."),
        ("pee=1", "“pee” wants 1: digits are minutes ago."),
        ("pee=ctrl+q", "“pee” wants ctrl+q, which is quit."),
        ("pea=f1", "There is no action “pea”."),
        ("pee", "“pee” is no pair"),
        ("=x", "“=x” is no pair"),
        ("pee=", "“pee=” is no pair"),
    ],
)
def test_a_wrong_keymap_names_what_is_wrong(text: str, message: str) -> None:
    with pytest.raises(KeymapError, match=re.escape(message)):
        read_keymap(text)
