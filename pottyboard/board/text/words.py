"""What the Day screen says: the situation in short sentences, without any layout or computing."""

from __future__ import annotations

import re
from typing import Final, NamedTuple

from rich.cells import cell_len

from pottyboard.board.text.glyphs import LOOKS, GlyphSet, sign
from pottyboard.board.text.safe_text import one_line
from pottyboard.core.model import figures
from pottyboard.core.model.events import CLOCK_WORDS
from pottyboard.core.model.localtime import count_words, span_words
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.advice import in_brief
from pottyboard.core.view.situation import Situation, State

_NAMES_LIMIT: Final = re.compile(r"\(you allow ")
_OVER_LIMIT: Final = re.compile(r" \(over [\d.]+ in 100\)")

NAME_WIDTH: Final = 24
"""Cells that a name, a place or another short text of a person may take."""


_SHORT_NAME: Final = 10


class Face(NamedTuple):
    """The one large thing: the ``state``, the ``large`` figures, their ``unit`` and a ``line``."""

    state: State
    large: str
    unit: str
    line: str

    @property
    def word(self) -> str:
        """The state in a word."""
        return LOOKS[self.state].word

    @property
    def figures(self) -> str:
        """The large figures with their unit, in plain text."""
        return f"{self.large.strip()} {self.unit}".strip()


def name_of(settings: Settings) -> str:
    """Return the dog's name, safe to show, with what tells it from others of the name."""
    name = one_line(settings.dog.name, NAME_WIDTH)
    return f"{name} ({one_line(settings.apart, NAME_WIDTH)})" if settings.apart else name


def face(situation: Situation) -> Face:
    """Return what the countdown shows at ``situation.now``."""
    due = situation.next_break
    at, what = situation.settings.clock(due.at), _what(situation)
    if due.state == "due":
        late = -due.minutes
        line = f"{what} due at {at}, {span_words(late)} ago" if late else f"{what} due at {at}"
        return Face("due", "NOW", "", line)
    if due.state == "late":
        large, unit = length(-due.minutes)
        return Face("late", large, unit, f"{what} was due at {at}, {span_words(due.minutes)} ago")
    if situation.asleep == "night":
        return Face("asleep", at, "", _night_line(situation))
    if due.state == "asleep":
        return Face("asleep", at, "", f"out when it stirs, {at} at the latest")
    large, unit = length(due.minutes)
    line = f"{what} at {at}, in {span_words(due.minutes)}"
    if situation.alone_since is not None:
        line += f"; alone since {situation.settings.clock(situation.alone_since)}"
    return Face(due.state, large, unit, line)


def _what(situation: Situation) -> str:
    """Return what the next break is: a break, or whom a lone dog waits for."""
    code, watching = situation.next_break.reasons[0].code, situation.watch
    if code == "retry":
        return "next try"
    if watching is None or code not in ("visit", "return"):
        return "break"
    who = one_line(watching.who, NAME_WIDTH) or ("visit" if code == "visit" else "somebody")
    return who if code == "visit" else f"{who} back"


def _night_line(situation: Situation) -> str:
    due, settings = situation.next_break, situation.settings
    if any(reason.code == "up" for reason in due.reasons):
        return "first break of the day"
    morning = next((reason for reason in due.later if reason.code == "up"), None)
    if morning is None:
        return "wake for a planned break"
    return f"wake for a planned break; the day begins at {settings.clock(morning.at)}"


def length(minutes: int) -> tuple[str, str]:
    """Return a length of time in at most five large letters, and the unit in small ones."""
    if minutes < 60:
        return f"{minutes:2}", "min"
    if minutes < 24 * 60:
        return f"{minutes // 60}h{minutes % 60:02}", ""
    return f"{minutes // (24 * 60)}d", ""


def title(situation: Situation, mark: str = "") -> tuple[str, str, str, str]:
    """Return the ends of the top line: the dog and its day; who is on duty and the clock.

    A ``mark``, if any, comes first of all: it says that the board is no real one.
    Last come the left end without the date, and without how many days there are, where room is
    short.
    """
    settings, now = situation.settings, situation.now.astimezone(situation.settings.zone)
    dot = sign("between", settings.board.glyphs)
    day = short = f"day {situation.day}"
    if now.date() > situation.date:
        day = f"night after {day}"  # the date beside it is another one
    elif situation.day <= figures.PROGRAMME_DAYS:
        day = f"{day} of {figures.PROGRAMME_DAYS:g}"
    date = f"{now:%a} {now.day} {now:%b}"
    duty = one_line(situation.on_duty, NAME_WIDTH)
    watch = f"{duty} on duty {dot} " if duty else ""
    name = name_of(settings)
    before = f"{mark} {dot} {name} {dot}" if mark else f"{name} {dot}"
    left = f"{before} {day}"
    return f"{left} {dot} {date}", f"{watch}{now:%H:%M}", left, f"{before} {short}"


def with_state(ends: tuple[str, ...], state: str, glyphs: GlyphSet) -> tuple[str, ...]:
    """Return right ends of a top line that say first how it is about the disk, if anything is."""
    return tuple(f"{state} {sign('between', glyphs)} {end}" if state else end for end in ends)


def standing(situation: Situation) -> tuple[str, ...]:
    """Return state and next break for the edge of whatever covers the board, the longest first."""
    seen, due = face(situation), situation.next_break
    mark = LOOKS[seen.state].glyph(situation.settings.board.glyphs)
    word = f"{mark} {seen.word.upper()}"
    at, what = situation.settings.clock(due.at), _what(situation)
    short = f"{word} {span_words(-due.minutes)}" if due.state == "late" else f"{word} {at}"
    # In large letters the night says its time already: its line alone would be no answer here.
    whole = f"{word} {at}: {seen.line}" if situation.asleep == "night" else f"{word}: {seen.line}"
    return whole, f"{word}: {what} {at}", short


def fitting(texts: tuple[str, ...], room: int) -> str:
    """Return the first of the texts that fits into ``room`` cells; the last if none does."""
    return next((text for text in texts if cell_len(text) <= room), texts[-1])


def with_other(title: tuple[str, ...], other: Situation | None, more: int) -> tuple[str, ...]:
    """Return the right ends of a top line that name another dog's break, the longest first.

    ``more`` dogs are due later than ``other``. Without another dog there is one right end.
    """
    right = title[1]
    if other is None:
        return (right,)
    due, settings = other.next_break, other.settings
    clock, dot = right.split(" ")[-1], sign("between", settings.board.glyphs)
    dog, at = name_of(settings), settings.clock(due.at)
    count = f" (+{more})" if more else ""
    word = LOOKS[due.state].word if due.state in ("due", "late") else ""
    said = f"{dog} {word or f'due {at}'}"
    cut = sign("cut", settings.board.glyphs)
    brief = one_line(settings.apart or settings.dog.name, _SHORT_NAME, cut)
    short = f"{brief} {word or at}"
    return tuple(
        dict.fromkeys(
            (
                f"{said}{count} {dot} {right}",
                f"{said}{count} {dot} {clock}",
                f"{short} {dot} {clock}",
            )
        )
    )


def break_rung(other: Situation) -> str:
    """Return what is said when the bell rings for another dog."""
    seen = face(other)
    return f"{name_of(other.settings)}: {seen.line}"


def reasons(situation: Situation) -> tuple[str, ...]:
    """Return why the break is due, each reason a line; the first is the one that made it due.

    The limit is left to the line below that says how sure the board is, where that names it.
    """
    said = (reason.words for reason in situation.next_break.reasons)
    if _NAMES_LIMIT.search(situation.confidence):
        said = (_OVER_LIMIT.sub("", words) for words in said)
    return tuple(_sentence(one_line(words, 200)) for words in said)


def then(situation: Situation) -> str:
    """Return what comes beside this break, such as ``Then 13:00 (since pee)``."""
    return _sentence(one_line(situation.then, 200))


def since(situation: Situation) -> tuple[tuple[str, str], ...]:
    """Return what happened last and how long ago, in the order of the board."""
    return tuple(
        (words, "none" if (ago := situation.since[key]) is None else span_words(ago))
        for key, words in CLOCK_WORDS.items()
        if key != "accident"
    )


def streak(situation: Situation) -> str:
    """Return the streak of clear days alone."""
    return count_words(situation.streak_days, "clear day")


def dog_log(situation: Situation) -> str:
    """Return the streak of clear days and the time since the last accident."""
    days = streak(situation)
    ago = situation.since["accident"]
    if ago is None:
        return f"{days}, no accident so far"
    return f"{days}, last accident {_hours(ago)} ago"


def _hours(minutes: int) -> str:
    if minutes < 60:
        return f"{minutes} min"
    return f"{minutes // 60} h" if minutes < 72 * 60 else f"{minutes // (24 * 60)} days"


def interval(situation: Situation) -> str:
    """Return today's interval and its range."""
    now = situation.interval
    top = span_words(now.top)
    reach = "the longest" if now.at_top else f"{top} is the longest"
    return f"every {span_words(now.minutes)}; {reach} in these two weeks"


def last_change(situation: Situation) -> tuple[str, ...]:
    """Return why the interval is what it is, with the time of its last change; then, in short, by
    how much it moved."""
    change = situation.interval.last_change
    words = one_line(change.words, 200)
    if change.cause == "start":
        return (words,)
    when = f"{change.at.astimezone(situation.settings.zone):%a %H:%M}"
    return f"{when}: {words}", f"{when}: {words.partition(':')[0]}"


def missing(situation: Situation) -> str:
    """Return what is missing to widen the interval."""
    state = situation.interval
    if state.at_top:
        return ""
    if not state.missing:
        return "From tomorrow breaks may be further apart, if today stays clear."
    return f"Next step needs: {', and '.join(state.missing)}."


def advice(situation: Situation) -> tuple[tuple[str, ...], ...]:
    """Return the short sentences for right now, each whole and in brief."""
    name = situation.settings.dog.name
    return tuple(
        tuple(one_line(form, 200) for form in dict.fromkeys((line, in_brief(line, name))))
        for line in situation.advice
    )


def confidence(situation: Situation) -> str:
    """Return how sure the board is."""
    return one_line(situation.confidence, 300)


_LONG_CHANCE: Final = re.compile("^Chance of an accident (?:before this break|by now):")
_ALLOWED: Final = re.compile(r"^accident .* \(you allow [^)]*\)")


def confidence_forms(situation: Situation) -> tuple[str, ...]:
    """Return how sure the board is, from the longest form to the shortest."""
    whole = confidence(situation)
    chance = whole.partition(";")[0]
    short = _LONG_CHANCE.sub("accident", chance)
    allowed = _ALLOWED.match(short)
    least = re.split(r"(?<=\?) |, so a break every ", short)[0]
    return whole, chance, short, allowed[0] if allowed else least


def interval_now(situation: Situation) -> str:
    """Return today's interval alone."""
    return span_words(situation.interval.minutes)


def jobs(situation: Situation, answer: str, setup: str = "") -> tuple[str, ...]:
    """Return the open jobs; ``answer`` is the key that answers those that are a question, ``setup``
    the one that opens the set-up.
    """
    said = []
    for job in situation.open_jobs:
        key = answer if job.is_question else setup if job.code == "set-up" else ""
        said.append(f"{key}: {one_line(job.words, 200)}" if key else one_line(job.words, 200))
    return tuple(said)


def pad(situation: Situation) -> tuple[str, ...]:
    """Return what to do about the pad today, with its caution and in two shorter forms.

    Nothing where none is used.
    """
    if situation.pad is None:
        return ()
    whole, caution = (
        one_line(words, 300) for words in (situation.pad.words, situation.pad.caution)
    )
    forms = (f"{whole}. {caution}", whole, whole.partition(". ")[0])
    return tuple(dict.fromkeys(f"Pad: {text}." for text in forms))


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def marked(lines: tuple[str, ...], name: str, glyphs: GlyphSet) -> list[str]:
    """Return lines with a sign of the board before each."""
    return [f"{sign(name, glyphs)} {line}" for line in lines]
