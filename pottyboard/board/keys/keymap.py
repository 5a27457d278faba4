"""The keys of actions under a household's own keymap, checked for clashes, and how they read."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from pottyboard.board.keys.actions import ACTIONS, BY_ID, Action

_RESERVED: Final = {"ctrl+p": "the command palette", "ctrl+q": "quit", "ctrl+c": "copy"}
_NAMES: Final = {"?": "question_mark", "!": "exclamation_mark", "@": "at", "+": "plus"}
_SHOWN: Final = {
    "question_mark": "?", "exclamation_mark": "!", "at": "@", "plus": "+", "escape": "esc",
    "delete": "del",
    "up": "↑", "down": "↓", "left": "←", "right": "→", "backspace": "⌫",
}  # fmt: skip
_DRAWN: Final = frozenset({"up", "down", "left", "right", "backspace"})


class KeymapError(ValueError):
    """A keymap that leaves an action without its key, naming each clash."""


def read_keymap(text: str) -> dict[str, str]:
    """Read a keymap such as ``accident=f2 pee=1``: action ids with their keys.

    Raises :class:`KeymapError` for anything that is not such a pair, and as :func:`check_keymap`.
    """
    keymap = {}
    for part in text.split():
        name, equals, key = part.partition("=")
        if not (name and equals and key):
            raise KeymapError(f"“{part}” is no pair: write an action and its key, such as pee=f1.")
        keymap[name] = key
    return check_keymap(keymap)


def check_keymap(keymap: Mapping[str, str]) -> dict[str, str]:
    """Return the keymap if, laid over the default keys, no two actions share a key.

    Raises :class:`KeymapError` that names each unknown action and each clash.
    """
    problems = [f"There is no action “{name}”." for name in keymap if name not in BY_ID]
    owners: dict[str, str] = {}
    for action in ACTIONS:
        for key in keys_of(action, keymap):
            if key in _RESERVED:
                problems.append(f"“{action.id}” wants {key}, which is {_RESERVED[key]}.")
            elif len(key) == 1 and key.isdecimal():
                problems.append(f"“{action.id}” wants {key}: digits are minutes ago.")
            elif key in owners:
                problems.append(f"“{owners[key]}” and “{action.id}” both want {shown(key)}.")
            owners.setdefault(key, action.id)
    if problems:
        raise KeymapError(" ".join(problems))
    return dict(keymap)


def keys_of(action: Action, keymap: Mapping[str, str]) -> tuple[str, ...]:
    """Return the keys of an action under a keymap, by name: ``?`` as ``question_mark``."""
    keys = keymap.get(action.id, action.key).split(",")
    return tuple(_NAMES.get(key, key) for key in keys if key)


def shown(key: str, *, ascii_only: bool = False) -> str:
    """Return a key as it stands on the keyboard."""
    if ascii_only and key in _DRAWN:
        return key
    return _SHOWN.get(key, key)


def key_words(action: Action, keymap: Mapping[str, str], *, ascii_only: bool = False) -> str:
    """Return the keys of an action for reading, such as ``e or enter``."""
    return " or ".join(shown(key, ascii_only=ascii_only) for key in keys_of(action, keymap))
