"""The review as one self-contained HTML page, with drawings and the data behind them as tables."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from pottyboard.core.review.report import Review
from pottyboard.papers import page as frame
from pottyboard.papers.lookback import charts, plots
from pottyboard.papers.lookback.review import PRIVATE, Drawing, about, made, parts, title
from pottyboard.papers.lookback.svg import STYLE
from pottyboard.papers.page import Html

_STYLE: Final = (
    STYLE
    + """
.wide th[scope="row"]:not(.long) { white-space: nowrap; }
.wide caption, .wide thead { break-after: avoid; }
.wide tbody tr:first-child, .wide tbody tr:nth-child(2) { break-before: avoid; }
ul.said { padding-left: 5mm; } ul.said li { margin: .8mm 0; }
@media screen { h2 { margin-top: 3mm; } .wide td:last-child:not(.number) { min-width: 38mm; } }
"""
)
_CAPTIONS: Final[dict[Drawing, str]] = {
    "rows": "Each row is a day, each mark one entry at its clock time.",
    "interval": "The interval between breaks; each triangle on the floor is an accident.",
    "hold": "Of all waits, the share that stays dry past a time; dotted that of dogs of this size.",
    "clock": "Every accident at its clock time, midnight at the top, the night shaded; hollow "
    "ones were found, the line before them is the time in which they happened.",
}


def review_page(review: Review) -> str:
    """Return the review as HTML: no scripts, nothing loaded from elsewhere, all text escaped."""
    return frame.page(title(review), _lines(review), style=_STYLE)


def _lines(review: Review) -> Iterator[Html]:
    yield frame.tag("h1", frame.text(title(review)))
    yield frame.paragraph(about(review))
    yield frame.paragraph(PRIVATE, "faint")
    for part in parts(review):
        yield frame.section(
            part.title,
            (
                *(_drawn(review, one) for one in part.drawings if one == "rows"),
                frame.pair([_drawn(review, one) for one in part.drawings if one != "rows"]),
                *((frame.bullets(part.sentences, "said"),) if part.sentences else ()),
                *(
                    frame.table(
                        table.caption,
                        table.heads,
                        table.rows,
                        numbers=table.numbers,
                    )
                    for table in part.tables
                ),
            ),
        )
    yield frame.tag("footer", frame.text(made(review)))


def _drawn(review: Review, drawing: Drawing) -> Html:
    settings, dates = review.settings, [day.date for day in review.days]
    if drawing == "days":
        return charts.chart_figure(charts.outings_by_day(dates, review.by_day))
    if drawing == "hours":
        return charts.chart_figure(charts.outings_by_hour(review.by_hour))
    if drawing == "waits":
        days = tuple((day.date, day.interval) for day in review.days)
        return charts.chart_figure(charts.Waits(review.waits, days))
    if drawing == "rows":
        drawn = plots.fortnight_plot(review.fortnight)
    elif drawing == "interval":
        drawn = plots.interval_plot(
            review.changes, review.days, review.situation.interval.top, settings,
            review.accidents, review.now,
        )  # fmt: skip
    elif drawing == "hold":
        drawn = plots.hold_plot(review.hold, review.situation.interval.minutes)
    else:
        drawn = plots.accident_clock(review.accidents, settings)
    return frame.figure(drawn, _CAPTIONS[drawing])
