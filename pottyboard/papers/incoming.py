"""What an import would do, before anything is written: columns, first rows, problems by line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event
from pottyboard.core.model.localtime import count_words
from pottyboard.core.model.printable import printable
from pottyboard.core.model.settings import Settings
from pottyboard.core.transfer.incoming import Line, Problem
from pottyboard.core.transfer.mapping import SKIP
from pottyboard.core.transfer.paper_log import Way
from pottyboard.papers.replies import undo_command

_SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
_FIRST = 6
_MOST = 20


def head_text(name: str, form: str, count: int) -> str:
    """Return which file this is: its name, its form and how many rows it has."""
    return f"{printable(name)}: {form}, {count_words(count, 'row')}"


def way_text(way: Way, separator: str) -> str:
    """Return how a household's own table is understood, column by column."""
    name = max(len(printable(column.name, 30)) for column in way.columns)
    lines = [f"Columns, parted by {_SEPARATORS[separator]}:"]
    for column in way.columns:
        words = column.words
        if column.means in ("date", "when") and way.order_words:
            words += f", {way.order.replace('-', ' ')} ({printable(way.order_words)})"
        lines.append(f"  {column.number:2}  {printable(column.name, 30):{name}}  {words}")
    if any(column.means == SKIP for column in way.columns):
        lines.append("Another meaning for a column: --map “NAME=note” (see import --help)")
    if not way.is_dated and way.day is not None:
        lines.append(f"All of it on {way.day:%a} {way.day} (--day)")
    return "\n".join(lines)


def rows_text(lines: Sequence[Line], settings: Settings) -> str:
    """Return the first entries as they would be read, with their lines."""
    if not lines:
        return "No entry can be read."
    shown = [f"  line {line:4}  {_when(event, settings)}" for line, event in lines[:_FIRST]]
    if len(lines) > _FIRST:
        last = lines[-1]
        shown += ["  …", f"  line {last.line:4}  {_when(last.event, settings)}"]
    return "\n".join(("As it would be read:", *shown))


def _when(event: Event, settings: Settings) -> str:
    at = event.at.astimezone(settings.zone)
    return f"{at:%a %Y-%m-%d %H:%M}  {describe(event, settings, whole=True)}"


def problems_by_line(problems: Sequence[Problem]) -> str:
    """Return what cannot be read, by line; of very many the first ones and how many more."""
    return "\n".join(_problem_lines(problems))


def _problem_lines(problems: Sequence[Problem]) -> Iterator[str]:
    lines = len({problem.line for problem in problems})
    yield f"{count_words(lines, 'line')} cannot be read, nothing was saved:"
    for problem in problems[:_MOST]:
        yield f"  {printable(str(problem), 300)}"
    if len(problems) > _MOST:
        yield f"  and {len(problems) - _MOST} more"


def skipped_words(skipped: int) -> str:
    """Return how many entries are left out because they are there already, empty if none."""
    if not skipped:
        return ""
    verb = "is" if skipped == 1 else "are"
    return f"{count_words(skipped, 'entry', 'entries')} {verb} there already and left out."


def imported_text(count: int, skipped: int, name: str, dog: str | None = None) -> str:
    """Return what was saved, and that one undo takes all of it back."""
    entries = count_words(count, "entry", "entries")
    back = f"To take all of it back: {undo_command(dog)}"
    words = f"Saved: {entries} in {printable(name)}’s log. {back}"
    return f"{words}\n{skipped_words(skipped)}".rstrip()
