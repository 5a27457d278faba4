"""The help in rows: every key, the states, the kinds of entry, the settings file.

The help page of the board shows them, ``pottyboard help TOPIC`` prints them: the same words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Final, NamedTuple

from pottyboard.board.keys.actions import ACTIONS, Topic
from pottyboard.board.keys.board_file import COLOURS, FILE_NAME
from pottyboard.board.keys.keymap import key_words, keys_of
from pottyboard.board.text.glyphs import LOOKS, GlyphSet, kind_glyph
from pottyboard.core.model.events import KINDS

Keymap = Mapping[str, str]


class Row(NamedTuple):
    """One row of help: what is typed or seen, its words, what it means; or a heading alone."""

    mark: str
    words: str = ""
    help: str = ""


_TITLES: Final[dict[Topic, str]] = {
    "log": "Log what happened, now",
    "entry": "Correct the log",
    "board": "The board",
}
_STATES: Final = {
    "rest": "more than 15 min to go",
    "soon": "15 min or less",
    "due": "go out now",
    "late": "more than 15 min past its time",
    "watching": "nothing came: beside somebody until the next try",
    "asleep": "a nap, or the night",
    "alone": "nobody is home; counts to the next visit",
}


def keys(keymap: Keymap, glyphs: GlyphSet) -> Iterator[Row]:
    """Yield every key under its heading, each heading a row of one text."""
    for topic, title in _TITLES.items():
        yield Row(title)
        for action in ACTIONS:
            typed = key_words(action, keymap, ascii_only=glyphs == "ascii")
            if action.topic == topic and typed:
                yield Row(typed, action.words, action.help)
        if topic == "log":
            yield Row("20 p", "minutes ago", "digits before a letter: pee, 20 minutes ago")
        if topic == "board":
            by_name = (action.words for action in ACTIONS if not keys_of(action, keymap))
            yield Row("ctrl+p", "all by name", f"every action, also {', '.join(by_name)}")


def states(_: Keymap, glyphs: GlyphSet) -> Iterator[Row]:
    """Yield the states of the board with their marks."""
    yield Row("States")
    for state, look in LOOKS.items():
        yield Row(look.glyph(glyphs), look.word, _STATES[state])


def kinds(keymap: Keymap, glyphs: GlyphSet) -> Iterator[Row]:
    """Yield the kinds of entry: their names for ``log``, marks, words and keys."""
    typed = {
        kind: key_words(action, keymap, ascii_only=glyphs == "ascii")
        for action in ACTIONS
        for kind in action.kinds
    }
    yield Row("Kinds of entry: pottyboard log KIND")
    for name, kind in KINDS.items():
        yield Row(name, f"{kind_glyph(kind, glyphs)} {kind.words}", f"on the board {typed[name]}")


def settings(_: Keymap, __: GlyphSet) -> Iterator[Row]:
    """Yield what the settings file of the board may hold."""
    *others, last = COLOURS
    yield Row(f"{FILE_NAME}, in the home folder that pottyboard check names")
    yield Row('colours = "evening"', "", f"{', '.join(others)} or {last}")
    yield Row("[keys]", "", "below it, one action a line:")
    yield Row('accident = "f2"', "", "its key; two keys: f2,K. Digits are minutes, so no keys")
    yield Row("The names of the actions")
    ids = [action.id for action in ACTIONS]
    for start in range(0, len(ids), 6):
        yield Row("", ", ".join(ids[start : start + 6]))
    yield Row("The set-up (S) and pottyboard setup --keys, --colours change it too")


class HelpTopic(NamedTuple):
    """One topic of ``pottyboard help``."""

    name: str
    help: str
    rows: Callable[[Keymap, GlyphSet], Iterator[Row]]


TOPICS: Final = (
    HelpTopic("keys", "every key of the board", keys),
    HelpTopic("states", "what the large word on the board means", states),
    HelpTopic("kinds", "what can be logged", kinds),
    HelpTopic("settings", "the board's own settings file", settings),
)


def topic_text(topic: HelpTopic, keymap: Keymap, glyphs: GlyphSet) -> str:
    """Return a topic as plain text."""
    rows = [*topic.rows(keymap, glyphs)]
    told = [row for row in rows if row.words or row.help]
    wide = max(len(row.mark) for row in told), max(len(row.words) for row in told if row.help)
    lines: list[str] = []
    for row in rows:
        if row in told:
            cells = (f"{row.mark:{wide[0]}}", f"{row.words:{wide[1]}}", row.help)
            lines.append("  ".join(("", *filter(str.strip, cells))).rstrip())
        else:
            lines += ["", row.mark] if lines else [row.mark]
    return "\n".join(lines)
