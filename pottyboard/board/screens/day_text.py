"""The texts of the Day screen's panels: the words of the situation, laid out with emphasis."""

from __future__ import annotations

from collections.abc import Mapping

from textual.content import Content

from pottyboard.board.control.actions import BY_ID, key_words, keys_of
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.board.text.whole_lines import Piece
from pottyboard.core.model import figures
from pottyboard.core.view.situation import Situation


def why(situation: Situation) -> tuple[Piece, ...]:
    """Return advice for right now, the reasons for the next break, and how sure the board is.

    The first reason takes its room first, then advice, the other reasons and the rest in order.
    Where a pad is used, what to do about it today comes last.
    """
    glyphs = situation.settings.board.glyphs
    advice = words.marked(words.advice(situation), "advice", glyphs)
    first, *others = words.reasons(situation)
    sure = words.confidence(situation)
    shorter = dict.fromkeys((sure, sure.partition(";")[0]))
    pieces = [
        *(Piece((Content.styled(line, "bold"),), 1) for line in advice),
        Piece((Content.assemble(("Why: ", "dim"), first),), 0),
        *(Piece((Content(f"     {other}"),), 2) for other in others),
        Piece(tuple(Content.styled(f"How sure: {text}", "dim") for text in shorter), 3),
    ]
    if then := words.then(situation):
        pieces.append(Piece((Content.styled(f"Then {then}", "dim"),), 4))
    if pad := words.pad(situation):
        pieces.append(Piece(tuple(Content(text) for text in pad), 5))
    if situation.reminder:
        pieces.append(Piece((Content.styled(situation.reminder, "dim"),), 3))
    return tuple(pieces)


def offers(situation: Situation, keymap: Mapping[str, str]) -> tuple[Piece, ...]:
    """Return the pages that are worth opening now: from the last thing on, how today went; from
    the end of the two weeks on, what comes after them."""
    worth = {
        "evening": situation.is_evening,
        "ahead": situation.round_day >= figures.OFFERED_FROM,
    }
    said = (
        f"{key_words(BY_ID[name], keymap)}: {BY_ID[name].words}"
        for name, is_worth in worth.items()
        if is_worth and keys_of(BY_ID[name], keymap)
    )
    return tuple(
        Piece((Content.styled(words, "dim"),), 3 + rank) for rank, words in enumerate(said)
    )


def since(situation: Situation, compact: bool) -> Content:
    """Return how long ago everything was: one line each, or side by side if ``compact``."""
    rows = words.since(situation)
    if compact:
        return Content("\n").join(
            Content(" ").join(_pair(what, ago, 6, 7) for what, ago in rows[start : start + 3])
            for start in (0, 3)
        )
    lines = [_title("Since the last")]
    lines += [_pair(what, ago, 8, 9) for what, ago in rows]
    return Content("\n").join(lines)


def _pair(what: str, ago: str, left: int, right: int) -> Content:
    return Content.assemble((f"{what:{left}} ", "dim"), (f"{ago:<{right}}", "bold"))


def progress(situation: Situation, compact: bool) -> tuple[Piece, ...]:
    """Return the streak, the interval, what is missing to widen it and why it is what it is."""
    if compact:
        short = f"{words.streak(situation)}, interval {words.interval_now(situation)}"
        return (Piece((Content(short),), 0),)
    interval = Content.assemble(("Interval ", "dim"), words.interval(situation))
    pieces = [
        Piece((_title("How it goes"),), 0),
        Piece((Content.styled(words.dog_log(situation), "bold"),), 1),
        Piece((interval, Content(f"Interval {words.interval_now(situation)}")), 2),
        Piece((Content.styled(words.last_change(situation), "dim"),), 4),
    ]
    if missing := words.missing(situation):
        pieces.append(Piece((Content(missing),), 3))
    return tuple(pieces)


def jobs(situation: Situation, compact: bool) -> tuple[Piece, ...]:
    """Return the open jobs, in ever shorter forms; if ``compact`` the first alone and in short."""
    lines = words.marked(words.jobs(situation), "job", situation.settings.board.glyphs)
    if not lines:
        return ()
    if compact:
        return (Piece((Content(_in_short(lines)),), 0),)
    plain = [line.rpartition(": enzyme")[0] or line for line in lines]
    fewer = ([*plain[:shown], _more(len(plain) - shown)] for shown in range(len(plain) - 1, 0, -1))
    forms = tuple(Content("\n".join(form)) for form in (lines, plain, *fewer))
    return (Piece((_title("Open jobs"),), 0), Piece(forms, 1))


def _more(number: int) -> str:
    """Return how many jobs are not shown, for want of room."""
    return f"  and {number} more"


def _in_short(jobs: list[str]) -> str:
    """Return the first job without its details, which stand on the page of places."""
    first = jobs[0].rpartition(" (")[0] or jobs[0].rpartition(": ")[0] or jobs[0]
    return f"{first}, {len(jobs) - 1} more" if len(jobs) > 1 else first


def too_small(situation: Situation, width: int, height: int, least: tuple[int, int]) -> Content:
    """Return what a window shows that is too small for the board."""
    face = words.face(situation)
    mark = sign("between", situation.settings.board.glyphs)
    text = (
        f"{face.word.upper()} {face.figures} {mark} {face.line}\n\n"
        f"This window is {width}×{height}: the board needs {least[0]}×{least[1]}. Make it larger."
    )
    return Content(text)


def _title(text: str) -> Content:
    return Content.styled(text, "bold dim")
