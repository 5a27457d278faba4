"""How a break that is due makes itself known, and how the household writes that down."""

from __future__ import annotations

import re
import shlex
from collections.abc import Mapping
from datetime import time
from typing import Any, Final, Literal

from msgspec import Struct

from pottyboard.core.written.clocks import read_clock

Notice = Literal["auto", "osc9", "osc99", "osc777", "no"]
"""Which control sequence asks the terminal for a notice: the one that it is known for, or one that
the household has named. OSC is an operating system command (ECMA-48, 8.3.89)."""

NOTICES: Final[tuple[Notice, ...]] = ("auto", "osc9", "osc99", "osc777", "no")

_BETWEEN: Final = re.compile(r"\s*(?:[-–—]|\bto\b|\buntil\b)\s*", re.IGNORECASE)
_MOST_WORDS: Final = 20
_LONGEST: Final = 300


class Alarms(Struct, frozen=True):
    """The means by which a break rings, and when it does.

    ``notifier`` is a program and its options, which is given the text as one more argument. With
    ``again`` it goes on ringing while a break is late; within ``quiet``, a span of local clock
    times that may pass midnight, only a planned night break, leaving and last thing do.
    """

    bell: bool = True
    notice: Notice = "auto"
    title: bool = True
    notifier: tuple[str, ...] = ()
    again: bool = True
    quiet: tuple[time, time] | None = None

    def is_quiet(self, clock: time) -> bool:
        """Whether a local clock time lies in the quiet hours, the first minute included."""
        if self.quiet is None:
            return False
        start, end = self.quiet
        return start <= clock < end if start < end else clock >= start or clock < end


def read_quiet(answer: str) -> tuple[time, time] | None:
    """Read quiet hours such as ``22:30-07:00``; none where nothing is written."""
    answer = answer.strip()
    if not answer or answer.lower() in ("none", "no"):
        return None
    said = _BETWEEN.split(answer)
    if len(said) != 2:
        raise ValueError("Write when they begin and end, such as 22:30-07:00, or none.")
    start, end = map(read_clock, said)
    if start == end:
        raise ValueError("They end when they begin: to ring at no time, switch the means off.")
    return start, end


def read_notifier(answer: str) -> tuple[str, ...]:
    """Read a program and its options, quoted as for a shell; empty for none. No shell runs it."""
    if not answer.strip() or answer.strip().lower() == "none":
        return ()
    if len(answer) > _LONGEST or not answer.isprintable():
        raise ValueError("Write the program's name and its options on one line.")
    try:
        words = tuple(shlex.split(answer))
    except ValueError:
        raise ValueError("A quote is opened and not closed.") from None
    if not words or not words[0] or words[0].startswith("-") or len(words) > _MOST_WORDS:
        raise ValueError("Write the program's name first, then its options.")
    return words


def alarms_from(value: Mapping[str, Any]) -> Alarms:
    """Return the alarms of the answers, each read."""
    return Alarms(**{key: value[key] for key in Alarms.__struct_fields__})


def alarm_answers(alarms: Alarms) -> dict[str, str]:
    """Return the answers that :func:`alarms_from` makes the same alarms of, once read."""
    yes = {True: "yes", False: "no"}
    return {
        "bell": yes[alarms.bell],
        "notice": alarms.notice,
        "title": yes[alarms.title],
        "notifier": shlex.join(alarms.notifier),
        "again": yes[alarms.again],
        "quiet": "-".join(f"{clock:%H:%M}" for clock in alarms.quiet or ()),
    }
