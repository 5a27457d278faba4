"""Everything that a key can do: one list, from which keys, footer, help and palette are made."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal, NamedTuple

from textual.binding import Binding

Topic = Literal["log", "entry", "board"]


class Action(NamedTuple):
    """One thing that a key does.

    ``id`` names it for keymaps; ``words`` in footer, help and palette; ``key`` is the default key,
    empty for the palette alone; ``call`` what Textual runs; ``kinds`` the kinds of entry that it
    logs; ``footer`` its rank in the footer, 0 for none; ``page`` the screen that it opens, by its
    module in ``screens`` and its name, which is loaded when it opens.
    """

    id: str
    words: str
    key: str
    help: str
    topic: Topic
    call: str
    kinds: tuple[str, ...] = ()
    footer: int = 0
    page: str = ""


def _log(kind: str, words: str, key: str, help_: str, footer: int = 0) -> Action:
    return Action(kind, words, key, help_, "log", f"screen.log('{kind}')", (kind,), footer)


def _asked(
    id_: str, words: str, key: str, help_: str, kinds: tuple[str, ...], footer: int = 0
) -> Action:
    return Action(id_, words, key, help_, "log", f"screen.ask('{id_}')", kinds, footer)


def _mend(id_: str, words: str, key: str, help_: str, call: str = "", footer: int = 0) -> Action:
    return Action(id_, words, key, help_, "entry", f"screen.{call or id_}", (), footer)


def _page(
    id_: str, words: str, key: str, help_: str, page: str, kinds: tuple[str, ...] = (),
    footer: int = 0,
) -> Action:  # fmt: skip
    return Action(id_, words, key, help_, "board", f"app.page('{id_}')", kinds, footer, page)


def _board(id_: str, words: str, key: str, help_: str) -> Action:
    return Action(id_, words, key, help_, "board", f"app.{id_}")


ACTIONS: Final[tuple[Action, ...]] = (
    _log("pee", "pee", "p", "peed at the spot outside", 1),
    _log("poop", "poop", "o", "pooped at the spot outside", 2),
    _log("both", "both", "b", "pee and poop on one outing", 7),
    _log("nothing", "nothing", "n", "went out, nothing came: try again soon", 4),
    _asked("accident", "accident", "a", "what to do now; saved at once, the rest is asked after",
           ("pee-inside", "poop-inside"), 3),
    _log("meal", "meal", "m", "ate", 5),
    _log("water", "drink", "w", "a long drink"),
    _log("sign", "sign", "s", "at the door, sniffing, circling: a break is due now"),
    _log("up", "got up", "g", "woke in the morning or from a nap"),
    _asked("settled", "settled", "z", "lies down to sleep: a nap or the night", ("settled",)),
    _log("play", "play", "y", "play, visitors or other excitement"),
    _log("left", "left alone", "l", "everybody has gone out"),
    _asked("back", "back", "k", "somebody is home again; asks how it went", ("back",)),
    _log("visit", "visit", "v", "somebody came by while nobody was home"),
    _asked("cleaned", "cleaned", "c", "an accident's spot is clean: closes the job",
           ("cleaned",)),
    _asked("answer", "answer", "A", "what the board asks: seen or found, one or two, quiet hours",
           ("quiet", "seen", "found", "same", "two")),
    _asked("note", "note", "t", "write down anything else", ("note",)),
    _asked("other", "other entry", "r", "health note, water bowl, vet, pad, own interval",
           ("pad", "interval", "vet", "health", "bowl")),
    _asked("duty", "on duty", "d", "who is on duty: every entry carries the name", ("duty",)),
    _mend("undo", "undo", "u", "take back the last entry, correction or deletion", footer=6),
    _mend("earlier", "earlier entry", "up", "select an entry, going back", "choose(-1)"),
    _mend("later", "later entry", "down", "select an entry, going forward", "choose(1)"),
    _mend("correct", "correct", "e,enter", "correct the selected entry"),
    _mend("delete", "delete", "x,delete", "delete the selected entry"),
    _mend("clear", "clear", "escape", "forget the typed minutes or the selection"),
    _mend("shorten", "one digit less", "backspace", "take back a typed digit"),
    _page("emergency", "emergency", "exclamation_mark",
          "the signs of one, and whom to phone now", "emergency.EmergencyScreen"),
    _page("help", "help", "question_mark", "this page", "help.HelpScreen", footer=8),
    _page("away", "away plan", "f", "the days away: visits, their cost, practice alone",
          "away.AwayScreen"),
    _board("report", "visit report", "i", "a helper's message, typed or pasted as it comes"),
    _page("hold", "hold", "h", "how long the dog can hold, and how sure that is",
          "hold.HoldScreen"),
    _page("evening", "how today went", "E", "the day against its plan, and tomorrow",
          "evening.EveningScreen"),
    _page("fortnight", "fortnight", "F", "fourteen days by the clock; opens and mends each",
          "fortnight.FortnightScreen"),
    _page("ahead", "weeks ahead", "N", "after two weeks: what was reached, what comes next",
          "ahead.AheadScreen", ("round",)),
    _page("places", "places", "P", "rooms and spots, what is to clean and how",
          "places.PlacesScreen"),
    _page("causes", "why indoors", "j", "why each accident happened, one change for tomorrow",
          "cause.CauseScreen", ("routine",)),
    _page("warnings", "warnings", "W", "when to call a vet or a trainer, and why",
          "warnings.WarningsScreen", ("noted",)),
    _board("dogs", "dogs", "D", "every dog of the home: another board, or one more dog"),
    _board("setup", "set-up", "S", "the dog, the home, the routine, the board"),
    _board("colours", "colours", "", "evening, daylight or the terminal's own"),
    _board("quit", "quit", "q", "close the board: the log is always saved"),
)  # fmt: skip

BY_ID: Final = {action.id: action for action in ACTIONS}
EMERGENCY: Final = BY_ID["emergency"]
"""The one action that every screen has, and names in its top line."""

_RESERVED: Final = {"ctrl+p": "the command palette", "ctrl+q": "quit", "ctrl+c": "copy"}
_NAMES: Final = {"?": "question_mark", "!": "exclamation_mark"}
_SHOWN: Final = {
    "question_mark": "?", "exclamation_mark": "!", "escape": "esc", "delete": "del",
    "up": "↑", "down": "↓", "left": "←", "right": "→", "backspace": "⌫",
}  # fmt: skip
_DRAWN: Final = frozenset({"up", "down", "left", "right", "backspace"})


class KeymapError(ValueError):
    """A keymap that leaves an action without its key, naming each clash."""


def bindings() -> list[Binding]:
    """Return a binding for every action that has a key, with the action's id."""
    return [binding(action) for action in ACTIONS if action.key]


def binding(action: Action) -> Binding:
    """Return the binding of an action that has a key, with the action's id for keymaps."""
    return Binding(action.key, action.call, action.words, show=False, id=action.id)


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


def footer() -> tuple[Action, ...]:
    """Return the actions of the footer, the most needed first."""
    return tuple(sorted((a for a in ACTIONS if a.footer), key=lambda action: action.footer))
