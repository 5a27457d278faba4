"""The curve of the next hours: how likely an accident is by then, if nobody goes out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from textual.content import Content
from textual.widget import Widget

from pottyboard.board.text.glyphs import GlyphSet, sign
from pottyboard.board.text.inked import TEXT, Row, inked
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.widgets.plot import Plot, Point, floor, labels, place
from pottyboard.core.model.localtime import percent_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Situation
from pottyboard.core.view.situation_views import RiskEstimate

_HEADING: Final = "Chance of an accident if nobody goes out"
_MARGIN: Final = 11
_LEAST_ROWS: Final = 3
_LIMITS_HIGH: Final = 4
"""The top of the plot, in limits: beyond it everything is far too late, and looks the same."""

_STYLES: Final = {
    **TEXT,
    "curve": "bold",
    "limit": "$text-warning",
    "due": "bold $text-accent",
}


class RiskCurve(Widget):
    """Shows the coming risk of a situation, in whatever room it has; repaints only changes."""

    def __init__(self, situation: Situation) -> None:
        """Show ``situation`` as soon as the size is known."""
        super().__init__(id="risk")
        self._situation = situation
        self._rows: tuple[Row, ...] = ()

    @property
    def text(self) -> str:
        """What is shown, as plain text."""
        return "\n".join("".join(text for text, _ in row).rstrip() for row in self._rows)

    def show(self, situation: Situation) -> None:
        """Show another situation; repaints only if a row of text differs."""
        self._situation = situation
        rows = draw(situation, *self.size)
        if rows != self._rows:
            self._rows = rows
            self.refresh()

    def on_resize(self) -> None:
        """Draw anew for the new size."""
        self.show(self._situation)

    def render(self) -> Content:
        """Return the drawing."""
        return inked(self._rows, _STYLES)


def draw(situation: Situation, width: int, height: int) -> tuple[Row, ...]:
    """Return the rows of a place of ``width`` × ``height`` cells, none where that is too small.

    While nothing is known of the coming hours, the rows say why.
    """
    if height < _LEAST_ROWS + 3 or width < len(_HEADING):
        return ()
    heading = ((_HEADING, "heading"),)
    risk, settings = situation.risk, situation.settings
    if risk is None or not situation.hold.knows or len(risk.curve) < 2:
        return (heading, (("Not known yet", "curve"),), ((_reason(situation, width), "dim"),))
    return (heading, *_rows(risk, situation, settings, width, height - 1))


def _reason(situation: Situation, width: int) -> str:
    """Return why nothing is drawn."""
    if not situation.hold.knows:
        return one_line(situation.hold.words, width)
    if situation.asleep == "night":
        return "The night is not counted."
    return "It counts from the first pee that is logged."


def _rows(
    risk: RiskEstimate, situation: Situation, settings: Settings, width: int, height: int
) -> Iterator[Row]:
    """Yield the plot with its axes: ``height`` rows, of which two are the axis of time."""
    glyphs: GlyphSet = settings.board.glyphs
    top = _LIMITS_HIGH * risk.limit
    points: list[Point] = [(at.timestamp() / 60, min(chance, top)) for at, chance in risk.curve]
    x, wide = (points[0][0], points[-1][0]), width - _MARGIN
    due = situation.next_break.at.timestamp() / 60
    plot = Plot(x, (0, top), wide, height - 2, glyphs)
    plot.level(risk.limit, "limit")
    if due <= x[1]:
        plot.upright(due, "due")
    beyond = risk.curve[0][1] >= top
    plot.curve(points if beyond else _up_to(top, points), "thin", "curve")
    names = {
        0: f"over {top:.0%}" if beyond else f"{top:.0%}",
        plot.row_of(risk.limit): f"limit {percent_words(risk.limit)}",
        height - 3: "0%",
    }
    wall = sign("wall", glyphs)
    for number, row in enumerate(plot.rows()):
        name = names.get(number, "")
        ink = "limit" if name.startswith("limit") else "dim"
        yield ((f"{name:>{_MARGIN - 1}}", ink), (wall, "dim"), *row)
    ticks = list(_ticks(risk, situation, x, wide))
    columns = [column for column, _ in ticks if column < wide]
    margin = " " * (_MARGIN - 1)
    yield ((margin + sign("corner", glyphs) + floor(columns, wide, glyphs), "dim"),)
    # The labels may reach under the margin, so that "now" stands where it belongs.
    yield ((labels(((_MARGIN + column, text) for column, text in ticks), width), "due"),)


def _up_to(top: float, points: list[Point]) -> list[Point]:
    """Return the curve as far as the top: a line along it would look like a level."""
    last = next((at for at, (_, chance) in enumerate(points) if chance == top), len(points))
    return points[: last + 1]


def _ticks(
    risk: RiskEstimate, situation: Situation, x: tuple[float, float], wide: int
) -> Iterator[tuple[int, str]]:
    """Yield the column and the text of each label of the axis of time, the weightiest first."""
    settings, at = situation.settings, situation.next_break.at
    due = at.timestamp() / 60
    if due > x[1]:
        yield wide, f"break {settings.clock(at)} {sign('further', settings.board.glyphs)}"
    elif at > situation.now:
        yield place(due, x, wide), f"break {settings.clock(at)}"
    else:
        yield 0, "break now"
    yield 0, "now"
    start = risk.curve[0][0].replace(second=0, microsecond=0)
    past = start.astimezone(settings.zone).minute
    for minutes in range(-past % 60, int(x[1] - x[0]) + 1, 60):
        hour = start + timedelta(minutes=minutes)
        yield place(hour.timestamp() / 60, x, wide), settings.clock(hour)
