"""The bottom line of every screen: the few keys that matter, or what is being typed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final, NamedTuple

from textual.content import Content
from textual.style import Style
from textual.widget import Widget

from pottyboard.board.keys.actions import footer
from pottyboard.board.keys.keymap import keys_of, shown
from pottyboard.board.text.safe_text import one_line

_GAP: Final = "  "


class Key(NamedTuple):
    """A key in the line: how it reads, what it does, and what Textual runs on a click, if anything.

    One that ``stays`` keeps its place where there is no room for those before it.
    """

    key: str
    words: str
    call: str = ""
    stays: bool = False

    @property
    def content(self) -> Content:
        """The key with its words, to be clicked."""
        text = Content.assemble((self.key, "bold"), f" {self.words}")
        return text.stylize(Style.from_meta({"@click": self.call})) if self.call else text


class KeyLine(Widget):
    """Shows as many keys as fit, the most needed first.

    While something is typed or selected it shows that in their place.
    """

    def __init__(self, keys: Iterable[Key]) -> None:
        """Show ``keys`` from the beginning."""
        super().__init__(id="keys")
        self._keys, self._prompt, self._cut = tuple(keys), "", ""

    def show(self, keys: Iterable[Key], prompt: str = "", cut: str = "…") -> None:
        """Show other keys, or in their place a prompt, with ``cut`` at the end if it is too long.

        Does nothing if they are the same.
        """
        fresh = (tuple(keys), prompt, cut)
        if fresh != (self._keys, self._prompt, self._cut):
            self._keys, self._prompt, self._cut = fresh
            self.set_class(bool(prompt), "-prompt")
            self.refresh()

    def render(self) -> Content:
        """Return the line for the present width."""
        width = self.size.width
        if self._prompt:
            return Content(f" {one_line(self._prompt, width - 1, self._cut)}")
        return keys_line(width, self._keys)


def footer_keys(keymap: Mapping[str, str]) -> Iterator[Key]:
    """Yield the keys of the footer under ``keymap``; the last one stays."""
    actions = [action for action in footer() if keys_of(action, keymap)]
    for action in actions:
        key = shown(keys_of(action, keymap)[0])
        yield Key(key, action.words, action.call, stays=action is actions[-1])


def keys_line(width: int, keys: Iterable[Key]) -> Content:
    """Return the keys that fit into ``width`` cells, the first ones and those that stay.

    A blank goes before and after them where there is room for it.
    """
    pieces = [(key.content, key.stays) for key in keys]
    room = width - sum(piece.cell_length + len(_GAP) for piece, stays in pieces if stays)
    taken: list[Content] = []
    for piece, stays in pieces:
        if not stays:
            room -= piece.cell_length + len(_GAP) * bool(taken)
        if stays or room >= 0:
            taken.append(piece)
    line = Content(_GAP).join(taken)
    return Content.assemble(" ", line, " ") if line.cell_length + 2 <= width else line
