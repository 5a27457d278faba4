"""What the command line answers after it has done something."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Settings
from pottyboard.core.view.situation import Situation
from pottyboard.papers.plain import break_words, call_lines

if TYPE_CHECKING:
    from pottyboard.core.transfer.reports import ReportProblem
    from pottyboard.store.restoring import Version


def undo_command(dog: str | None) -> str:
    """Return the command that takes back the last change; ``dog`` is named where one was asked."""
    if dog is None:
        return "pottyboard undo"
    return f"pottyboard --dog {shlex.quote(printable(dog))} undo"


def redo_command(dog: str | None) -> str:
    """Return the command that takes the last undo back."""
    return f"{undo_command(dog)} --redo"


def saved_text(event: Event, situation: Situation, dog: str | None = None) -> str:
    """Return what was saved, how to take it back, what it warns of, and the next break."""
    settings = situation.settings
    wall = event.at.astimezone(settings.zone)
    today = situation.now.astimezone(settings.zone).date()
    when = f"{wall:%H:%M}" if wall.date() == today else f"{wall:%a %Y-%m-%d %H:%M}"
    entry = describe(event, settings, whole=True)
    saved = f"Saved: {when} {entry}. To take it back: {undo_command(dog)}"
    return "\n".join((saved, *_warned([event], situation), next_text(situation)))


def _warned(entries: Sequence[Event], situation: Situation) -> Iterator[str]:
    """Yield the warnings that the entries have raised; an emergency each time until it is noted."""
    first = min((event.at for event in entries), default=situation.now)
    for warning in situation.warnings:
        if warning.noted is None and (warning.level == "now" or warning.since >= first):
            yield f"! {warning.words}"
            yield from call_lines(warning, situation.settings.home.numbers)


def report_text(entries: Sequence[Event], situation: Situation, dog: str | None = None) -> str:
    """Return what a visit report became, how to take all of it back, and the next break."""
    settings = situation.settings
    head = f"Saved {count_words(len(entries), 'entry', 'entries')}:"
    lines = [
        f"  {event.at.astimezone(settings.zone):%a %H:%M}  {describe(event, settings, whole=True)}"
        for event in entries
    ]
    last = f"To take all of it back: {undo_command(dog)}"
    warned = _warned(entries, situation)
    return "\n".join((head, *lines, last, *warned, next_text(situation)))


def unread_text(problems: Sequence[ReportProblem]) -> str:
    """Return every place of a visit report that cannot be read."""
    head = f"{count_words(len(problems), 'place')} cannot be read, nothing was saved:"
    return "\n".join((head, *(f"  {printable(str(problem), 300)}" for problem in problems)))


def next_text(situation: Situation) -> str:
    """Return the next break in a sentence."""
    words = break_words(situation)
    reason = printable(situation.next_break.reasons[0].words)
    return f"Next {words} ({reason})."


def set_up_text(settings: Settings, folder: Path, situation: Situation) -> str:
    """Return what the set-up now says about the dog and where its log lives."""
    dog, home = settings.dog, settings.home
    arrived = dog.arrived.astimezone(settings.zone)
    word = "arrives" if dog.arrived > situation.now else "arrived"
    meals = " ".join(f"{meal:%H:%M}" for meal in home.meals)
    return "\n".join(
        (
            f"{printable(dog.name)}, {dog.weight_words}, {word} {arrived:%a %Y-%m-%d %H:%M} "
            f"({home.zone}).",
            f"Up {home.up:%H:%M}, meals {meals}, bedtime {home.bed:%H:%M}.",
            f"The log is in {printable(str(folder))}",
            next_text(situation),
        )
    )


def problems_text(problems: Mapping[str, str]) -> str:
    """Return every answer that does not fit, with the option that it was given to."""
    width = max(len(key) for key in problems) + 2
    lines = [f"  {'--' + key:{width}}  {printable(words)}" for key, words in problems.items()]
    head = f"{count_words(len(problems), 'answer')} to correct, nothing was saved:"
    return "\n".join((head, *lines))


def undone_text(words: str, situation: Situation, redo: str = "") -> str:
    """Return what was taken back (``words``), the command that brings it back, the next break."""
    forward = f" To bring it back: {redo}" if redo else ""
    return f"{printable(words)}.{forward}\n{next_text(situation)}"


def check_text(
    folder: Path,
    settings: Settings,
    events: Sequence[Event],
    notices: Sequence[str],
    aside: Sequence[str] = (),
) -> str:
    """Return what was found in one dog's folder: where, how much, and anything that is wrong.

    ``aside`` are the names of files that were kept because they could not be used.
    """
    lines = [f"{printable(settings.dog.name)}: {printable(str(folder))}"]
    if events:
        first, last = (at.astimezone(settings.zone).date() for at in (events[0].at, events[-1].at))
        lines.append(f"  {count_words(len(events), 'entry', 'entries')}, from {first} to {last}")
    else:
        lines.append("  no entries yet")
    lines += [f"  ! {printable(words, 500)}" for words in notices] or ["  nothing is damaged"]
    lines += [f"  kept aside: {printable(name, 100)}" for name in aside]
    if notices or aside:
        lines.append("  What can be brought back: pottyboard restore. To read a file kept aside:")
        lines.append("  pottyboard import FILE. Once you know all this: pottyboard check --noted")
    return "\n".join(lines)


def versions_text(versions: Sequence[Version], settings: Settings) -> str:
    """Return the earlier versions of a log, numbered, with what each would bring back."""
    if not versions:
        return "There is no backup yet: one is made with each change."
    lines = ["Earlier versions, the newest first:"]
    for number, version in enumerate(versions, 1):
        at = version.at.astimezone(settings.zone)
        entries = count_words(version.entries, "entry", "entries")
        coming = f"{len(version.coming)} would come back" if version.coming else "all there"
        name = printable(version.name, 80)
        lines.append(f"{number:3}  {at:%a %Y-%m-%d %H:%M}  {entries:>12}, {coming}  {name}")
    lines.append("What one would bring back: pottyboard restore NUMBER")
    return "\n".join(lines)


def version_text(version: Version, settings: Settings) -> str:
    """Return what one earlier version would bring back, entry by entry."""
    coming = count_words(len(version.coming), "entry", "entries")
    lines = [f"{printable(version.name, 80)}: {coming} would come back."]
    shown = version.coming[:_SHOWN]
    lines += [
        f"  {event.at.astimezone(settings.zone):%a %Y-%m-%d %H:%M}  "
        f"{describe(event, settings, whole=True)}"
        for event in shown
    ]
    if len(version.coming) > len(shown):
        lines.append(f"  and {len(version.coming) - len(shown)} more")
    if version.removed:
        gone = count_words(version.removed, "entry was", "entries were")
        lines.append(f"{gone} deleted since, and stay away.")
    if version.otherwise:
        other = count_words(version.otherwise, "entry reads", "entries read")
        lines.append(f"{other} otherwise in the log: the log counts.")
    return "\n".join(lines)


_SHOWN: Final = 20
"""Entries that are shown before anything is saved."""


def restored_text(count: int, name: str, dog: str | None = None) -> str:
    """Return what was brought back, and that one undo takes it away again."""
    entries = count_words(count, "entry", "entries")
    back = f"To take that back: {undo_command(dog)}"
    return f"Brought back: {entries} in {printable(name)}’s log. {back}"


def sample_text(name: str, settings: Settings, events: Sequence[Event]) -> str:
    """Return a sample log in one line: its name, the dog, how many entries."""
    dog = settings.dog
    entries = count_words(len(events), "entry", "entries")
    days = settings.day_number(events[-1].at.astimezone(settings.zone).date())
    return f"{name}: {dog.name}, {dog.weight_words}, {count_words(days, 'day')}, {entries}"
