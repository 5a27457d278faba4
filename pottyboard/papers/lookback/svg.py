"""What every drawing of a paper is made of: inline SVG with words for those who do not see it.

Marks are told apart by shape as well as by colour; the colours are those of the page's frame.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from pottyboard.papers.page import Html, text

STYLE: Final = """
.plot { overflow-x: auto; }
.plot svg { font-size: 12px; }
.plot .rows { min-width: 600px; width: 100%; }
.plot .small { width: 100%; max-width: 460px; font-size: 13.5px; }
.plot .narrow { display: none; width: 100%; font-size: 14px; }
.plot .dial { width: 100%; max-width: 340px; font-size: 14px; }
.plot text { fill: var(--ink); }
.plot .dim, .plot text.dim { fill: var(--faint); }
.plot .grid { stroke: var(--line); stroke-width: .5; }
.plot .axis { stroke: var(--ink); stroke-width: 1; }
.plot .night { fill: var(--shade); stroke: var(--line); stroke-width: .4; }
.plot .nap { fill: var(--shade); }
.plot .alone { fill: none; stroke: var(--faint); stroke-width: 1; stroke-dasharray: 3 2; }
.plot .ink { fill: var(--ink); stroke: var(--paper); stroke-width: .6; }
.plot .open { fill: var(--paper); stroke: var(--ink); stroke-width: 1.1; }
.plot .accident { fill: var(--mark); stroke: var(--paper); stroke-width: .6; }
.plot .found { fill: var(--paper); stroke: var(--mark); stroke-width: 1.4; }
.plot .arc { fill: none; stroke: var(--mark); stroke-width: 2; opacity: .55; }
.plot .bar { fill: var(--faint); }
.plot .hollow { fill: var(--paper); stroke: var(--faint); stroke-width: 1; }
.plot .dot { fill: none; stroke: var(--ink); stroke-width: 1; }
.plot .line { fill: none; stroke: var(--ink); stroke-width: 1.8; }
.plot .log { fill: none; stroke: var(--ink); stroke-width: 3; opacity: .55; }
.plot .prior { fill: none; stroke: var(--faint); stroke-width: 1.2; stroke-dasharray: 2 3; }
.plot .top { fill: none; stroke: var(--faint); stroke-width: 1; stroke-dasharray: 6 3; }
@media screen and (max-width: 640px) { .plot .rows { display: none; }
  .plot .narrow { display: block; } }
@media print { .plot { overflow: visible; } .plot .rows { min-width: 0; }
  .plot .night, .plot .nap, .plot .accident, .plot .bar { print-color-adjust: exact;
  -webkit-print-color-adjust: exact; } }
"""
"""Rules for a page that has drawings."""


def svg(name: str, title: str, said: str, size: tuple[float, float], parts: Iterable[str],
         kind: str = "small") -> Html:  # fmt: skip
    width, height = size
    return Html(
        f'<div class="plot"><svg class="{kind}" role="img" viewBox="0 0 {width:g} {height:g}" '
        f'aria-labelledby="{name}-title {name}-desc"><title id="{name}-title">{text(title)}</title>'
        f'<desc id="{name}-desc">{text(said)}</desc>{"".join(parts)}</svg></div>'
    )


def label(x: float, y: float, words: str, anchor: str = "start", kind: str = "") -> str:
    of = f' class="{kind}"' if kind else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"{of}>{text(words)}</text>'


def line(x1: float, y1: float, x2: float, y2: float, kind: str) -> str:
    return f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" class="{kind}"/>'


def path(points: Sequence[tuple[float, float]], kind: str) -> str:
    steps = " L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return f'<path d="M{steps}" class="{kind}"/>' if points else ""


def mark(kind: str, x: float, y: float) -> str:
    """Return the sign of one entry, around its middle."""
    if kind in ("accident", "found"):
        return f'<path d="M{x:.1f} {y - 6:.1f}l6 10.5h-12z" class="{kind}"/>'
    if kind == "poop":
        return f'<path d="M{x:.1f} {y - 5:.1f}l5 5-5 5-5-5z" class="ink"/>'
    if kind == "meal":
        return f'<rect x="{x - 3.2:.1f}" y="{y - 3.2:.1f}" width="6.4" height="6.4" class="ink"/>'
    if kind == "pad":
        return f'<rect x="{x - 3.8:.1f}" y="{y - 3.8:.1f}" width="7.6" height="7.6" class="open"/>'
    if kind == "visit":
        return f'<path d="M{x - 4:.1f} {y:.1f}h8m-4 -4v8" class="axis"/>'
    filled = "ink" if kind == "pee" else "open"
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.8" class="{filled}"/>'
