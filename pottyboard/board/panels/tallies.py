"""What is counted: since when everything was, the streak, the interval, the open jobs."""

from __future__ import annotations

from typing import Final

from textual.content import Content

from pottyboard.board.text import words
from pottyboard.board.widgets.whole_lines import Piece
from pottyboard.core.view.situation import Situation

_DETAILS: Final = (": enzyme", ": no longer each")
"""With what begins the part of an open job that gives way where there is little room."""


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
        short = f"{words.streak(situation)}, a break every {words.interval_now(situation)}"
        return (Piece((Content(short),), 0),)
    interval = Content.assemble(("A break ", "dim"), words.interval(situation))
    pieces = [
        Piece((_title("How it goes"),), 0),
        Piece((Content.styled(words.dog_log(situation), "bold"),), 1),
        Piece((interval, Content(f"A break every {words.interval_now(situation)}")), 3),
        Piece(tuple(Content.styled(text, "dim") for text in words.last_change(situation)), 4),
    ]
    if missing := words.missing(situation):
        pieces.append(Piece((Content(missing),), 2))
    return tuple(pieces)


def jobs(situation: Situation, compact: bool, answer: str, setup: str = "") -> tuple[Piece, ...]:
    """Return the open jobs, in ever shorter forms; if ``compact`` the first alone and in short.

    ``answer`` is the key for the open questions of an accident, ``setup`` that for the set-up.
    """
    said = words.jobs(situation, answer, setup)
    lines = words.marked(said, "job", situation.settings.board.glyphs)
    if not lines:
        return ()
    if compact:
        hidden = situation.open_jobs[1:]
        keys = [f"{answer} answers"] if any(job.is_question for job in hidden) else []
        keys += [f"{setup} set-up"] if any(job.code == "set-up" for job in hidden) else []
        return (Piece(tuple(map(Content, _in_short(lines, keys))), 0),)
    plain = [_plain(line) for line in lines]
    fewer = ([*plain[:shown], _more(len(plain) - shown)] for shown in range(len(plain) - 1, 0, -1))
    forms = tuple(Content("\n".join(form)) for form in (lines, plain, *fewer))
    return (Piece((Content("Open jobs"),), 0), Piece(forms, 1))


def _plain(job: str) -> str:
    """Return a job without what its page says too."""
    return next((head for end in _DETAILS if (head := job.rpartition(end)[0])), job)


def _more(number: int) -> str:
    """Return how many jobs are not shown, for want of room."""
    return f"  and {number} more"


def _in_short(jobs: list[str], keys: list[str]) -> tuple[str, ...]:
    """Return the first job without its details, which stand on the page of places, and how many
    more there are, in ever shorter forms.

    ``keys`` say which keys see to one of the others.
    """
    first = jobs[0].rpartition(" (")[0] or jobs[0].rpartition(": ")[0] or jobs[0]
    number = len(jobs) - 1
    more = [f", {number} more", f" +{number}"] if number else [""]
    return (", ".join((first + more[0], *keys)), *(first + tail for tail in more))


def _title(text: str) -> Content:
    return Content.styled(text, "bold dim")
