"""A place for sentences that are shown whole or not at all."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, NamedTuple

from textual.content import Content
from textual.widget import Widget

KEPT: Final = 2
"""Up to this rank no piece is left out so that an earlier one can be longer."""


class Piece(NamedTuple):
    """One sentence: its ``texts`` from the longest to the shortest, and its ``rank``, 0 first."""

    texts: tuple[Content, ...]
    rank: int


class WholeLines(Widget):
    """Shows the pieces that fit its own size; it repaints only when they change."""

    def __init__(self, pieces: Iterable[Piece], id: str) -> None:
        """Show ``pieces`` from the beginning."""
        super().__init__(id=id)
        self._pieces = tuple(pieces)

    def show(self, pieces: Iterable[Piece]) -> None:
        """Show other pieces; does nothing if they are the same."""
        pieces = tuple(pieces)
        if not _same(pieces, self._pieces):
            self._pieces = pieces
            self.refresh()

    def render(self) -> Content:
        """Return what fits the present size."""
        return Content("\n").join(fitting(self._pieces, self.size.width, self.size.height))


def fitting(pieces: Iterable[Piece], width: int, height: int) -> list[Content]:
    """Return the texts that fit whole into ``width`` × ``height`` cells, in their order.

    Room goes by rank: each piece takes the longest of its texts that still fits, or nothing; up to
    the rank ``KEPT`` it leaves room for the shortest text of those that come after it. The very
    first is shown in any case.
    """
    ordered = tuple(pieces)
    by_rank = sorted(range(len(ordered)), key=lambda at: ordered[at].rank)
    spare, least = height, dict[int, int]()
    for at in by_rank:
        rows = _rows(ordered[at].texts[-1], width)
        if ordered[at].rank <= KEPT and rows <= spare:
            least[at] = rows
            spare -= rows
    taken: dict[int, Content] = {}
    for at in by_rank:
        room = spare + least.get(at, 0)
        for text in ordered[at].texts:
            rows = _rows(text, width)
            if rows <= room or not taken:
                taken[at] = text
                spare = room - rows
                break
    return [taken[at] for at in sorted(taken)]


def _rows(text: Content, width: int) -> int:
    return text.get_height({}, max(1, width))


def _same(some: tuple[Piece, ...], others: tuple[Piece, ...]) -> bool:
    """Whether texts and styles are the same."""
    if [len(piece.texts) for piece in some] != [len(piece.texts) for piece in others]:
        return False
    return all(
        text.is_same(other)
        for piece, another in zip(some, others, strict=True)
        for text, other in zip(piece.texts, another.texts, strict=True)
    )
