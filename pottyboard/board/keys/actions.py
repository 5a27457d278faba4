"""Everything that a key can do: one list, from which keys, footer, help and palette are made."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

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


def _alarm(id_: str, words: str, key: str, help_: str) -> Action:
    return Action(id_, words, key, help_, "board", f"app.alarm('{id_}')")


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
    _log("sign", "signal", "s", "at the door, sniffing, circling: a break is due now"),
    _log("up", "got up", "g", "woke in the morning or from a nap"),
    _asked("settled", "settled", "z", "lies down to sleep: a nap or the night", ("settled",)),
    _log("play", "play", "y", "play, visitors or other excitement"),
    _log("left", "left alone", "l", "everybody has gone out"),
    _asked("back", "back", "k", "somebody is home again; asks how it went", ("back",)),
    _log("visit", "visit", "v", "somebody came by while nobody was home"),
    _asked("cleaned", "cleaned", "c", "an accident's spot is clean: closes the job",
           ("cleaned",)),
    _asked("answer", "answer", "A", "what is asked: seen or found, nothing happened, up or not",
           ("quiet", "seen", "found", "same", "two")),
    _asked("calls", "what calls", "B", "a known dog: ask back a break after meals, drinks, play",
           ("routine",)),
    _asked("note", "note", "t", "write down anything else", ("note",)),
    _asked("other", "other entry", "r", "health note, water bowl, vet, pad, own interval",
           ("pad", "interval", "vet", "health", "bowl")),
    _asked("duty", "on duty", "d", "who is on duty: every entry carries the name", ("duty",)),
    Action("at", "at that time", "at,T", "after digits: 2240 @ p is a pee at 22:40", "log",
           "screen.at_clock"),
    _mend("undo", "undo", "u", "take back the last entry, correction or deletion", footer=6),
    _mend("redo", "redo", "U", "bring back what the last undo took"),
    _mend("earlier", "earlier entry", "up", "select an entry, going back", "choose(-1)"),
    _mend("later", "later entry", "down", "select an entry, going forward", "choose(1)"),
    _mend("correct", "correct", "e,enter", "correct the selected entry"),
    _mend("delete", "delete", "x,delete", "delete the selected entry"),
    _mend("clear", "clear", "escape", "forget the typed minutes or the selection"),
    _mend("shorten", "one digit less", "backspace", "take back a typed digit"),
    _alarm("going", "going", "space", "on the way out: no alarm for 10 min, nothing is logged"),
    _alarm("more", "5 more minutes", "plus", "the alarm rings again in 5 min"),
    _page("emergency", "emergency", "exclamation_mark",
          "the signs of one, and whom to phone now", "emergency.EmergencyScreen"),
    _page("help", "help", "question_mark", "this page", "help.HelpScreen", footer=8),
    _page("away", "away plan", "f", "the days away: visits, their cost, practice absences",
          "away.AwayScreen", ("told", "called-off", "left-so")),
    _board("report", "visit report", "i", "a helper's message, typed or pasted as it comes"),
    _page("hold", "how long", "h", "how long the dog can wait, and how sure that is",
          "hold.HoldScreen"),
    _page("evening", "how today went", "E", "plan and what happened, and tomorrow",
          "evening.EveningScreen"),
    _page("fortnight", "fortnight", "F", "fourteen days: opens yesterday or any, to correct it",
          "fortnight.FortnightScreen"),
    _page("ahead", "weeks ahead", "N", "after two weeks: what was reached, what comes next",
          "ahead.AheadScreen", ("round",)),
    _page("places", "places", "P", "rooms and spots, what is to clean and how",
          "places.PlacesScreen"),
    _page("causes", "why indoors", "j", "why each accident happened, one change for tomorrow",
          "cause.CauseScreen", ("routine",)),
    _page("warnings", "warnings", "W", "when to call a vet or a trainer, and why",
          "warnings.WarningsScreen", ("noted",)),
    _board("dogs", "dogs", "D", "every dog here: its board; one more, names, archive"),
    _board("setup", "set-up", "S", "the dog, the home, alarms and their quiet hours"),
    _board("colours", "colours", "", "evening, daylight or the terminal's own"),
    _board("quit", "quit", "q", "close the board: the log is always saved"),
)  # fmt: skip

BY_ID: Final = {action.id: action for action in ACTIONS}
EMERGENCY: Final = BY_ID["emergency"]
"""The one action that every screen has, and names in its top line."""


def footer() -> tuple[Action, ...]:
    """Return the actions of the footer, the most needed first."""
    return tuple(sorted((a for a in ACTIONS if a.footer), key=lambda action: action.footer))
