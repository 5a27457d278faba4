"""The health diary as a self-contained HTML page, to read on a screen and to print for the vet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from pottyboard.papers import page as frame
from pottyboard.papers.lookback.charts import chart_figure
from pottyboard.papers.lookback.diary import Led, Paper, Part
from pottyboard.papers.lookback.svg import STYLE
from pottyboard.papers.page import Html, paragraph, tag, text

_STYLE: Final = (
    STYLE
    + """
h1 { margin-bottom: 1.6mm; }
section p { margin-top: 1mm; }
.dated tbody th, .dated tbody td:nth-child(2) { white-space: nowrap; }
.dated td:last-child:not(.number) { min-width: 34mm; }
.sources { font-size: 9pt; }
.sources td:nth-child(2) { white-space: nowrap; }
p.line { height: 9mm; border-bottom: .6pt solid var(--ink); }
section.blank { break-inside: avoid; }
"""
)


def diary_page(paper: Paper) -> str:
    """Return the diary as HTML: no scripts, nothing loaded from elsewhere, all text escaped."""
    return frame.page(paper.title, _parts(paper), style=_STYLE)


def _parts(paper: Paper) -> Iterator[Html]:
    yield tag("h1", text(paper.title))
    yield paragraph(paper.about)
    yield paragraph(paper.warning, "warning")
    yield from (_part(part) for part in paper.parts)
    yield tag("footer", text(paper.made))


def _part(part: Part) -> Html:
    inner = [frame.pair([*map(chart_figure, part.charts)])]
    inner += [] if part.table is None else [_table(part)]
    inner += map(_line, part.lines)
    inner += [tag("p", Html(""), "line")] * part.blanks
    return frame.section(part.title, inner, "blank" if part.blanks else "")


def _line(line: str | Led) -> Html:
    if isinstance(line, str):
        return paragraph(line)
    lead = tag("b", text(f"{line.lead}:"))
    return tag("p", Html(f"{lead} {text(line.rest)}"))


def _table(part: Part) -> Html:
    table = part.table
    assert table is not None
    made = frame.table(table.caption, table.heads, table.rows, numbers=table.numbers)
    return tag("div", made, "sources" if table.wordy else "dated")
