"""What the page of one day says beside its rows: the verdict, the interval, and what went wrong."""

from __future__ import annotations

from textual.content import Content

from pottyboard.board.text.glyphs import VERDICTS, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.board.text.whole_lines import Piece
from pottyboard.board.text.words import name_of
from pottyboard.core.engine.day_summary import DaySummary
from pottyboard.core.model.describe import describe
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.view.situation import Change, Situation

_LONGEST = 300


def title(view: Situation) -> tuple[str, ...]:
    """Return the ends of the top line: the dog and the day; the verdict."""
    glyphs, day = view.settings.board.glyphs, view.date
    dot, date = sign("between", glyphs), f"{day:%a} {day.day} {day:%b}"
    mark, word = VERDICTS[_summary(view).verdict]
    name = name_of(view.settings)
    return f"{name} {dot} day {view.day} {dot} {date}", f"{sign(mark, glyphs)} {word}", date


def told(view: Situation) -> tuple[Piece, ...]:
    """Return the verdict and why, accidents with their causes, the interval and the holds."""
    glyphs, summary = view.settings.board.glyphs, _summary(view)
    mark, word = VERDICTS[summary.verdict]
    verdict = summary.words if summary.accidents else f"{word.capitalize()}: {summary.words}"
    pieces = [_piece(f"{sign(mark, glyphs)} {verdict}.", 0, "bold")]
    accounts = {account.event: account for account in view.accidents}
    for slot in view.timeline:
        event = slot.event
        if event is None or not event.row.is_accident:
            continue
        what = f"{view.settings.clock(event.at)} {describe(event, view.settings)}"
        account = accounts.get(event)
        if account is None:
            pieces.append(_piece(f"{sign('problem', glyphs)} {what}.", 1))
        else:
            short = f"{sign('problem', glyphs)} {what}: {account.words}."
            pieces.append(_piece(f"{short} {account.reasoning}", 1, shorter=short))
    changes = [change for change in view.interval.changes if _is_on(change, view)]
    pieces.append(_piece(f"Interval {span_words(summary.interval)} at its end.", 2))
    for change in changes:
        pieces.append(_piece(f"{view.settings.clock(change.at)}: {change.words}", 2, "dim"))
    pieces.append(_piece(_holds(summary), 3, "dim"))
    return tuple(pieces)


def _piece(text: str, rank: int, style: str = "", shorter: str = "") -> Piece:
    texts = (one_line(each, _LONGEST) for each in (text, shorter) if each)
    return Piece(tuple(Content.styled(each, style) for each in texts), rank)


def _summary(view: Situation) -> DaySummary:
    return next(day for day in view.days if day.date == view.date)


def _is_on(change: Change, view: Situation) -> bool:
    return change.at.astimezone(view.settings.zone).date() == view.date


def _holds(summary: DaySummary) -> str:
    outings = count_words(summary.outings, "outing")
    if not summary.holds:
        return f"{outings}."
    longest = span_words(max(summary.holds))
    return f"{outings}, {count_words(len(summary.holds), 'hold')} by day, the longest {longest}."
