"""What calls: the next break with its reasons, keys that answer, pages that are worth opening."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from msgspec.structs import replace
from textual.content import Content

from pottyboard.board.keys.actions import BY_ID
from pottyboard.board.keys.keymap import key_words, keys_of
from pottyboard.board.panels.tallies import jobs
from pottyboard.board.text import words
from pottyboard.board.text.glyphs import sign
from pottyboard.board.widgets.whole_lines import Piece
from pottyboard.core.model import figures
from pottyboard.core.view.situation import Situation

_TONIGHT: Final = "what to expect tonight"


def why(situation: Situation) -> tuple[Piece, ...]:
    """Return advice for right now, the reasons for the next break, and how sure the board is.

    The first reason takes its room first, then advice, then how sure the board is: that is a part
    of the one question, so the other reasons and the rest give way to it, and advice gets shorter
    rather than push it out.
    Where a pad is used, what to do about it today comes last.
    """
    glyphs = situation.settings.board.glyphs
    advice = [words.marked(forms, "advice", glyphs) for forms in words.advice(situation)]
    first, *others = words.reasons(situation)
    shorter = dict.fromkeys(words.confidence_forms(situation))
    pieces = [
        *(Piece(tuple(Content.styled(line, "bold") for line in forms), 1) for forms in advice),
        Piece((Content.assemble(("Why: ", "dim"), first),), 0),
        *(Piece((Content(f"     {other}"),), 3) for other in others),
        Piece(tuple(Content.styled(f"How sure: {text}", "dim") for text in shorter), 2),
    ]
    if then := words.then(situation):
        pieces.append(Piece((Content.styled(then, "dim"),), 6))
    if pad := words.pad(situation):
        pieces.append(Piece(tuple(Content(text) for text in pad), 7))
    if situation.reminder:
        reminded = (situation.reminder, situation.reminder.partition(" until ")[0])
        pieces.append(Piece(tuple(Content.styled(text, "dim") for text in reminded), 5))
    return tuple(pieces)


_OF_TONIGHT: Final = ("clean", "left-open", "seen-or-found")
"""Jobs that an accident leaves: of these the dark board of the night tells too."""


def night(situation: Situation, keymap: Mapping[str, str]) -> tuple[Piece, ...]:
    """Return what the dark board of the night says besides the morning: since when a dog that was
    out sleeps again and the key if it does not, and what an accident has left open."""
    glyphs = situation.settings.board.glyphs
    got_up, answer = (key_words(BY_ID[name], keymap) for name in ("up", "answer"))
    advice = [words.marked(forms, "advice", glyphs)[0] for forms in words.advice(situation)]
    left = tuple(job for job in situation.open_jobs if job.code in _OF_TONIGHT)
    asked = jobs(replace(situation, open_jobs=left), compact=True, answer=answer) if advice else ()
    return (*(Piece((Content(f"{line} ({got_up})"),), 1) for line in advice), *asked)


def answers(situation: Situation, keymap: Mapping[str, str]) -> tuple[Piece, ...]:
    """Return the keys that answer whether the dog was out, where the log has long been silent."""
    if situation.silent_since is None:
        return ()
    pee, at = (key_words(BY_ID[name], keymap) for name in ("pee", "at"))
    keys = " ".join(key_words(BY_ID[name], keymap) for name in ("pee", "poop", "both", "nothing"))
    at = at.partition(" or ")[0]
    forms = (
        f"{keys} answer: {pee} now, 90 {pee} 90 minutes ago, 1130 {at} {pee} at 11:30",
        f"{keys} answer: 90 {pee}, or 1130 {at} {pee}",
    )
    return (Piece(tuple(Content.styled(text, "bold") for text in forms), 4),)


def offers(situation: Situation, keymap: Mapping[str, str]) -> tuple[Piece, ...]:
    """Return the pages that are worth opening now: from the last thing on, how today went; from
    the end of the two weeks on, what comes after them. On the first evening the page of the evening
    tells what to expect of the night."""
    worth = {
        "evening": situation.is_evening or situation.is_first_evening,
        "ahead": situation.round_day >= figures.OFFERED_FROM,
    }
    said = {
        name: f"{key_words(BY_ID[name], keymap)}: {BY_ID[name].words}"
        for name, is_worth in worth.items()
        if is_worth and keys_of(BY_ID[name], keymap)
    }
    pieces = [
        Piece((Content.styled(text, "dim"),), 4 + rank) for rank, text in enumerate(said.values())
    ]
    if "evening" in said and situation.is_first_evening:
        told = f"{key_words(BY_ID['evening'], keymap)}: {_TONIGHT}"
        pieces[0] = Piece((Content.styled(told, "bold"),), 1)
    return tuple(pieces)


def too_small(situation: Situation, width: int, height: int, least: tuple[int, int]) -> Content:
    """Return what a window shows that is too small for the board."""
    face = words.face(situation)
    mark = sign("between", situation.settings.board.glyphs)
    text = (
        f"{face.word.upper()} {face.figures} {mark} {face.line}\n\n"
        f"This window is {width}×{height}: the board needs {least[0]}×{least[1]}. Make it larger."
    )
    return Content(text)
