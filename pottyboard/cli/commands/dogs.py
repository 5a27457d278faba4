"""The commands for a home with several dogs: all of them at once, and whose an accident was."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Callable
from datetime import datetime

from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import read_when
from pottyboard.core.model.printable import printable
from pottyboard.core.view.situation import as_json, situation
from pottyboard.papers.plain import now_line, now_text
from pottyboard.papers.replies import undone_text
from pottyboard.store import DogLog, Household, StoreError
from pottyboard.store.shared import Unsettled, clean, follow, settle, take_back, unsettled

Warn = Callable[[str], None]
"""Says something beside what the command prints."""


def now_of_all(args: Namespace, household: Household, now: datetime, warn: Warn) -> bool:
    """Print the situation of every dog; return whether each could be read."""
    views, well = [], True
    for name in household.dogs() or (None,):
        try:
            dog_log = household.dog_log(name)
            settings = dog_log.settings
            at = now if args.at is None else read_when(args.at, now, settings.zone)
            views.append(situation(settings, dog_log.events, at))
        except StoreError as error:
            warn(str(error))
            well = False
    if args.json:
        print(json.dumps({"schema": 1, "dogs": [as_json(view) for view in views]}, indent=2))
    elif args.line:
        print(*map(now_line, views), sep="\n")
    else:
        print(*map(now_text, views), sep="\n\n")
    return well


def whose(args: Namespace, household: Household, now: datetime) -> bool:
    """Say whose an accident was; without a dog, list those of which nobody knows."""
    left = unsettled(household)
    if args.owner is None:
        print(*map(_line_of(household), left), sep="\n") if left else print(_NONE)
        return True
    event_id = args.id if args.id is not None else _only(left, household)
    event, gone = settle(household, event_id, args.owner, now, args.by)
    settings = household.dog_log(args.owner).settings
    words = f"{settings.clock(event.at)} {describe(event, settings, whole=True)}"
    print(f"It was {printable(settings.dog.name)}: {words}.")
    if gone:
        print(f"Taken out of the log of {', '.join(map(printable, gone))}.")
    return True


_NONE = "Of every accident it is known which dog it was."


def _only(left: tuple[Unsettled, ...], household: Household) -> str:
    if not left:
        raise EventError(_NONE)
    if len(left) > 1:
        listed = "; ".join(_line_of(household)(each) for each in left)
        raise EventError(f"Several accidents: say which with --id. {listed}")
    return left[0].event.id


def _line_of(household: Household) -> Callable[[Unsettled], str]:
    def line(each: Unsettled) -> str:
        settings = household.dog_log(each.dogs[0]).settings
        at = each.event.at.astimezone(settings.zone)
        words = describe(each.event, settings, whole=True)
        return f"{at:%a %Y-%m-%d %H:%M}  {words}  [{each.event.id}: {', '.join(each.dogs)}]"

    return line


# --- What the other logs have to know -------------------------------------------------------------


def saved_too(household: Household, dog_log: DogLog, saved: Event, now: datetime) -> str:
    """Write what concerns several dogs into their logs; return which, in words, empty if none."""
    if saved.kind == "cleaned":
        clean(household, dog_log, saved, now)
    if not (saved.row.is_accident and saved.unsure):
        return ""
    names = follow(household, dog_log, saved.id, now)
    if not names:
        return ""
    return (
        f"Also in the log of {', '.join(map(printable, names))}. "
        f"When it is known which dog it was: pottyboard whose NAME"
    )


def undo(args: Namespace, household: Household, dog_log: DogLog, now: datetime) -> bool:
    """Take back the last change of one dog's log, and what it meant for the others'."""
    undone = dog_log.undo(now, args.by)
    if len(household.dogs()) > 1:
        take_back(household, dog_log, undone.event, now)
    print(undone_text(undone.words, situation(dog_log.settings, dog_log.events, now)))
    return True
