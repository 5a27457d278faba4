"""The handover sheet as a self-contained HTML page that prints on one A4 or Letter page."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from typing import Final

from pottyboard.papers.sheet import Row, Section, Sheet, sheet_text

_ROOMY: Final = 57
"""A sheet with more lines of text than this is set smaller."""
_STYLE: Final = """
@page { margin: 11mm 13mm; }
* { box-sizing: border-box; margin: 0; padding: 0; }
html { background: #fff; color: #000; }
body { font: 10.8pt/1.34 "Liberation Sans", Arial, Helvetica, sans-serif; max-width: 184mm;
  margin: 0 auto; overflow-wrap: anywhere; }
h1 { font-size: 19pt; line-height: 1.15; }
h2 { font-size: 10.4pt; text-transform: uppercase; letter-spacing: .04em;
  border-bottom: .6pt solid #000; margin-bottom: 1mm; }
section { break-inside: avoid; padding-top: 3mm; }
p.warning { border: 1pt solid #000; padding: 1.2mm 2mm; margin-top: 1.6mm !important;
  font-weight: bold; }
table { border-collapse: collapse; width: 100%; }
td { padding: .35mm 3mm .35mm 0; vertical-align: top; border-bottom: .3pt solid #999; }
td.when { width: 1%; white-space: nowrap; font-weight: bold; }
td.what span { margin-right: 4mm; display: inline-block; }
ul { list-style: none; }
li { padding-left: 4.6mm; text-indent: -4.6mm; }
li::before { content: "\\2610"; display: inline-block; width: 4.6mm; text-indent: 0; }
.columns { columns: 2; column-gap: 7mm; }
td.label { width: 1%; white-space: nowrap; padding-top: 3.2mm; }
p.first { font-weight: bold; }
p + p { margin-top: .7mm; }
td.line { border-bottom: .6pt solid #000; }
footer { margin-top: 2mm; font-size: 8pt; }
body.dense { font-size: 9.2pt; }
body.dense h1 { font-size: 15pt; }
body.dense section { padding-top: 2mm; }
body.dense td.label { padding-top: 2.2mm; }
@media screen { body { padding: 8mm 4mm; } }
"""


def sheet_page(page: Sheet) -> str:
    """Return the sheet as HTML: no scripts, nothing loaded from elsewhere, all text escaped."""
    return "\n".join(_lines(page)) + "\n"


def _lines(page: Sheet) -> Iterator[str]:
    yield "<!DOCTYPE html>"
    yield '<html lang="en"><head><meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield '<meta name="robots" content="noindex">'
    yield f"<title>{escape(page.title)}</title>"
    dense = ' class="dense"' if sheet_text(page).count("\n") > _ROOMY else ""
    yield f"<style>{_STYLE}</style></head><body{dense}>"
    yield f"<h1>{escape(page.title)}</h1>"
    yield f"<p>{escape(page.about)}</p>"
    yield f'<p class="warning">{escape(page.warning)}</p>'
    yield "<section><h2>When</h2><table>"
    yield from (_row(row) for row in page.rows)
    yield "</table></section>"
    first, *others = page.sections
    yield _section(first)
    yield '<div class="columns">'
    yield from (_section(section) for section in others)
    yield "</div>"
    yield "<section><h2>Phone numbers, by hand</h2><table>"
    yield from (
        f'<tr><td class="label">{escape(blank)}</td><td class="line"></td></tr>'
        for blank in page.blanks
    )
    yield "</table></section>"
    yield f"<footer>{escape(page.made)}</footer>"
    yield "</body></html>"


def _row(row: Row) -> str:
    what = " ".join(f"<span>{escape(part)}</span>" for part in row.what)
    return f'<tr><td class="when">{escape(row.when)}</td><td class="what">{what}</td></tr>'


def _section(section: Section) -> str:
    title = f"<h2>{escape(section.title)}</h2>"
    if section.ticks:
        lines = "".join(f"<li>{escape(line)}</li>" for line in section.lines)
        return f"<section>{title}<ul>{lines}</ul></section>"
    first, *others = section.lines
    strong = ' class="first"' if others else ""
    lines = f"<p{strong}>{escape(first)}</p>" + "".join(f"<p>{escape(line)}</p>" for line in others)
    return f"<section>{title}{lines}</section>"
