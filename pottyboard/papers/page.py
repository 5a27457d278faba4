"""The frame that every HTML paper stands in: one file that loads nothing and runs nothing.

It reads on a screen, light or dark and as narrow as a phone, and prints on A4 or Letter. Text
becomes :data:`Html` only by :func:`text`, which escapes it, so that the type checker finds what was
not. A paper adds rules of its own with ``style``, in the frame's colours (``--ink``, ``--paper``,
``--faint``, ``--line``, ``--shade`` and ``--mark``), which are black on white in print.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import Final, NewType

from pottyboard.core.model.printable import printable

Html = NewType("Html", str)
"""HTML that may stand in a page as it is."""

_MOST_LETTERS: Final = 4000
_ONE_LINE: Final = 24
"""Letters up to which the cell that names a row need not break: a date with its time."""
_STYLE: Final = """
@page { margin: 11mm 13mm; }
:root { color-scheme: light dark; --ink: #1b1b1b; --paper: #fff; --faint: #5c5c5c; --line: #999;
  --shade: #f1f1ee; --mark: #a3260f; }
@media screen and (prefers-color-scheme: dark) { :root { --ink: #ececea; --paper: #161616;
  --faint: #adadaa; --line: #6d6d6d; --shade: #242424; --mark: #ff9d84; } }
@media print { :root { color-scheme: light; --ink: #000; --faint: #333; --mark: #000; } }
* { box-sizing: border-box; margin: 0; padding: 0; }
html { background: var(--paper); color: var(--ink); -webkit-text-size-adjust: 100%; }
body { font: 10.8pt/1.34 "Liberation Sans", Arial, Helvetica, sans-serif; max-width: 184mm;
  margin: 0 auto; overflow-wrap: anywhere; }
h1 { font-size: 19pt; line-height: 1.15; }
h2 { font-size: 10.4pt; text-transform: uppercase; letter-spacing: .04em;
  border-bottom: .6pt solid var(--ink); margin-bottom: 1mm; break-after: avoid; }
section { padding-top: 3mm; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; color: var(--faint); padding: 1mm 0; caption-side: top; }
th, td { text-align: left; vertical-align: top; }
tr { break-inside: avoid; }
tbody tr:last-child:not(:first-child) { break-before: avoid; }
thead { display: table-header-group; }
.wide { overflow-x: auto; }
.wide table { overflow-wrap: normal; }
.wide th, .wide td { padding: .6mm 2.4mm .6mm 0; border-bottom: .3pt solid var(--line); }
.wide .number { text-align: right; padding-right: 4.4mm; font-variant-numeric: tabular-nums;
  white-space: nowrap; }
.faint { color: var(--faint); }
p.warning { border: 1pt solid var(--mark); padding: 1.2mm 2mm; margin-top: 1.6mm;
  font-weight: bold; }
figure { break-inside: avoid; margin: 2mm 0; }
figure svg { display: block; max-width: 100%; height: auto; }
figcaption { color: var(--faint); }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 0 6mm; align-items: start; }
@media screen and (max-width: 640px) { .pair { grid-template-columns: 1fr; } }
footer { margin-top: 2mm; font-size: 8pt; }
@media screen { body { padding: 8mm 4mm; } footer { font-size: 9pt; } }
@media screen and (max-width: 560px) {
  .stacks thead { display: none; }
  .stacks table, .stacks caption, .stacks tbody, .stacks tr, .stacks th { display: block; }
  .stacks tr { border-bottom: .3pt solid var(--line); padding: .8mm 0; }
  .stacks tbody th, .stacks tbody td, .stacks .number { border: 0; padding: 0; text-align: left;
    white-space: normal; }
  .stacks td { display: inline-block; margin-right: 3.4mm; }
  .stacks td:last-child:not(.number) { min-width: 0; }
  .stacks td:empty { display: none; }
  .stacks td::before { content: attr(data-head) ": "; color: var(--faint); } }
@media print { .wide { overflow: visible; } }
"""
_NOTHING_ELSE: Final = "default-src 'none'; style-src 'unsafe-inline'"
"""What a browser may load and run for a page: its own style alone."""


def page(title: str, parts: Iterable[Html], *, style: str = "", body: str = "") -> str:
    """Return a whole page from its ``parts``; ``style`` are further rules, ``body`` its class."""
    kind = f' class="{escape(body)}"' if body else ""
    head = (
        "<!doctype html>",
        '<html lang="en"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{_NOTHING_ELSE}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="robots" content="noindex">',
        f"<title>{text(title)}</title>",
        f"<style>{_STYLE}{style}</style></head><body{kind}>",
    )
    return "\n".join((*head, *parts, "</body></html>")) + "\n"


def text(words: str) -> Html:
    """Return text as HTML, on one line: escaped, without control characters."""
    return Html(escape(printable(words, _MOST_LETTERS)))


def tag(name: str, content: Html, kind: str = "") -> Html:
    """Return an element around ``content``, with ``kind`` as its class."""
    opened = f'<{name} class="{escape(kind)}">' if kind else f"<{name}>"
    return Html(f"{opened}{content}</{name}>")


def joined(parts: Iterable[Html]) -> Html:
    """Return several pieces as one."""
    return Html("".join(parts))


def paragraph(words: str, kind: str = "") -> Html:
    """Return text as a paragraph; the class ``warning`` puts it in a frame, ``faint`` in grey."""
    return tag("p", text(words), kind)


def bullets(lines: Iterable[str], kind: str = "") -> Html:
    """Return lines of text as a list."""
    return tag("ul", joined(tag("li", text(line)) for line in lines), kind)


def section(title: str, parts: Iterable[Html], kind: str = "") -> Html:
    """Return a part of the page under a heading."""
    return tag("section", joined((tag("h2", text(title)), *parts)), kind)


def table(
    caption: str,
    heads: Sequence[str],
    rows: Iterable[Sequence[str]],
    *,
    numbers: Iterable[int] = (),
) -> Html:
    """Return a table of text whose first cell names its row, with a caption and headings.

    ``numbers`` are the columns, from 0, that are set flush right. On a phone each row of a table of
    many columns or of words is a block, its cells named by their headings; where even that is too
    wide the table scrolls sideways by itself.
    """
    right, last = frozenset(numbers), len(heads) - 1
    stacks = " stacks" if last > 4 or (last > 1 and last not in right) else ""

    def cell(column: int, words: str, name: str, scope: str) -> Html:
        kind = ' class="number"' if column in right else ""
        kind = ' class="long"' if scope == "row" and len(words) > _ONE_LINE else kind
        where = f' scope="{scope}"' if scope else f' data-head="{text(heads[column])}"'
        return Html(f"<{name}{where}{kind}>{text(words)}</{name}>")

    def line(row: Sequence[str]) -> Html:
        first, *others = row
        cells = (cell(column, words, "td", "") for column, words in enumerate(others, 1))
        return Html(tag("tr", joined((cell(0, first, "th", "row"), *cells))) + "\n")

    head = joined(cell(column, words, "th", "col") for column, words in enumerate(heads))
    body = joined(map(line, rows))
    inner = joined(
        (tag("caption", text(caption)), tag("thead", tag("tr", head)), tag("tbody", body))
    )
    return Html(
        f'<div class="wide{stacks}" role="region" tabindex="0" aria-label="{text(caption)}">'
        f"<table>{inner}</table></div>"
    )


def figure(drawing: Html, caption: str) -> Html:
    """Return a drawing (such as an inline SVG) with a caption that says what it shows."""
    return tag("figure", joined((drawing, tag("figcaption", text(caption)))))


def pair(figures: Sequence[Html]) -> Html:
    """Return small figures two beside each other, one below the other where it is narrow."""
    return tag("div", joined(figures), "pair") if len(figures) > 1 else joined(figures)
