"""The log as a table (CSV) and as JSON Lines: everything that an entry holds, and back."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Final

from pendulum import Timezone

from pottyboard.core.model.events import Event, EventError, check_details, check_time
from pottyboard.core.model.settings import Settings
from pottyboard.core.transfer.columns import HEADER, cells_of
from pottyboard.core.transfer.incoming import Line, Problem, Reading
from pottyboard.core.transfer.table import guarded, lines_of
from pottyboard.core.written.numbers import PhoneNumber
from pottyboard.store.documents import document_of, event_of

_SHOWN: Final = 40


def csv_lines(events: Iterable[Event], zone: Timezone) -> Iterator[str]:
    """Yield the lines of a table with one row for each entry (RFC 4180, for UTF-8), header first.

    ``zone`` gives the local clock of an entry that names no zone.
    """
    yield from lines_of([HEADER])
    yield from lines_of(cells_of(event, zone) for event in events)


def numbers_lines(numbers: Iterable[PhoneNumber]) -> Iterator[str]:
    """Yield the lines of a table of phone numbers, header first."""
    yield from lines_of([("name", "number")])
    yield from lines_of((guarded(each.name), guarded(each.number)) for each in numbers)


def json_lines(events: Iterable[Event]) -> Iterator[str]:
    """Yield one document a line, with the fields that are set, in ASCII."""
    for event in events:
        yield json.dumps(document_of(event), separators=(",", ":"), allow_nan=False) + "\n"


def is_json_lines(text: str) -> bool:
    """Whether a file begins as JSON Lines do, and no table does."""
    return text[:1000].lstrip("\ufeff \t\r\n").startswith("{")


def read_json_lines(lines: Iterable[tuple[int, str]], settings: Settings, now: datetime) -> Reading:
    """Return the entries of numbered lines of JSON; ``now`` is aware."""
    found: list[Line] = []
    problems: list[Problem] = []
    for number, line in lines:
        if not line.strip("\ufeff \t\r\n"):
            continue
        try:
            document = json.loads(line.strip("\ufeff"))
            if not isinstance(document, dict):
                raise ValueError("each line has to be one entry in { }")
            event = check_details(event_of(document))
            found.append(Line(number, check_time(event, now, settings.dog.arrived)))
        except EventError as error:
            problems.append(Problem(number, "", "", str(error)))
        except RecursionError:
            problems.append(Problem(number, "", "", "not an entry: too deep"))
        except ValueError as error:
            problems.append(Problem(number, "", line.strip()[:_SHOWN], str(error)))
    return Reading(tuple(found), tuple(problems))
