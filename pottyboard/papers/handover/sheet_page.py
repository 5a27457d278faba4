"""The handover sheet as a self-contained HTML page that prints on one A4 or Letter page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from pottyboard.papers import page as frame
from pottyboard.papers.handover.sheet import Row, Section, Sheet, sheet_text
from pottyboard.papers.page import Html, joined, paragraph, tag, text

_ROOMY: Final = 57
"""A sheet with more lines of text than this is set smaller."""
_DENSE: Final = 64
"""A sheet with more than this is set closer as well."""
_STYLE: Final = """
section { break-inside: avoid; }
td { padding: .35mm 3mm .35mm 0; border-bottom: .3pt solid var(--line); }
td.when { width: 1%; white-space: nowrap; font-weight: bold; }
td.what span { margin-right: 4mm; display: inline-block; }
ul { list-style: none; }
li { padding-left: 4.6mm; text-indent: -4.6mm; }
li::before { content: "\\2610"; display: inline-block; width: 4.6mm; text-indent: 0; }
.columns { columns: 2; column-gap: 7mm; }
td.label { width: 1%; white-space: nowrap; padding-top: 3.2mm; }
td.known { width: 1%; white-space: nowrap; padding-right: 5mm; }
td.number { font-weight: bold; font-variant-numeric: tabular-nums; }
p.first { font-weight: bold; }
section p + p { margin-top: .7mm; }
td.line { border-bottom: .6pt solid var(--ink); }
body.dense { font-size: 9.2pt; }
body.dense h1 { font-size: 15pt; }
body.dense section { padding-top: 2mm; }
body.dense td.label { padding-top: 2.2mm; }
body.close { font-size: 8.6pt; line-height: 1.26; }
body.close section { padding-top: 1.4mm; }
body.close td.label { padding-top: 1.6mm; }
@media screen and (max-width: 130mm) { .columns { columns: 1; }
  td.when { white-space: normal; width: 30%; } }
"""


def sheet_page(page: Sheet) -> str:
    """Return the sheet as HTML: no scripts, nothing loaded from elsewhere, all text escaped."""
    lines = sheet_text(page).count("\n")
    sizes = (kind for kind, most in (("dense", _ROOMY), ("close", _DENSE)) if lines > most)
    return frame.page(page.title, _parts(page), style=_STYLE, body=" ".join(sizes))


def _parts(page: Sheet) -> Iterator[Html]:
    yield tag("h1", text(page.title))
    yield paragraph(page.about)
    yield paragraph(page.warning, "warning")
    yield frame.section("When", [tag("table", joined(map(_row, page.rows)))])
    first, *others = page.sections
    yield _section(first)
    yield tag("div", joined(map(_section, others)), "columns")
    numbers = joined(_number(who, number) for who, number in page.numbers)
    yield frame.section("Phone numbers", [tag("table", numbers)])
    yield tag("footer", text(page.made))


def _row(row: Row) -> Html:
    what = Html(" ".join(tag("span", text(part)) for part in row.what))
    return tag("tr", joined((tag("td", text(row.when), "when"), tag("td", what, "what"))))


def _number(who: str, number: str) -> Html:
    """Return whom to call with the number, or with a line to write it on."""
    kinds = ("known", "number") if number else ("label", "line")
    return tag("tr", joined((tag("td", text(who), kinds[0]), tag("td", text(number), kinds[1]))))


def _section(section: Section) -> Html:
    if section.ticks:
        return frame.section(section.title, [frame.bullets(section.lines)])
    first, *others = section.lines
    strong = paragraph(first, "first" if others else "")
    return frame.section(section.title, [strong, *map(paragraph, others)])
