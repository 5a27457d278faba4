"""The commands about several logs at once: whose an accident was, and taking a change back."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Callable
from typing import Final

from pottyboard.cli.commands.request import Request
from pottyboard.cli.output.messages import DONE
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import EventError
from pottyboard.core.model.printable import printable
from pottyboard.papers.replies import undone_text
from pottyboard.store import Household
from pottyboard.store.shared import Unsettled, settle, undo, unsettled


def whose_options(parser: ArgumentParser) -> None:
    """Add the dog and which accident."""
    parser.add_argument("owner", nargs="?", metavar="NAME", help="the dog it was; none lists them")
    parser.add_argument("--id", metavar="ID", help="which accident, where there are several")
    parser.add_argument("--by", metavar="NAME", default="", help="who says so")


def run_whose(request: Request) -> int:
    """Say whose an accident was; without a dog, list those of which nobody knows."""
    args, household = request.args, request.household
    left = unsettled(household)
    if args.owner is None:
        print(*map(_line_of(household), left), sep="\n") if left else print(_NONE)
        return DONE
    event_id = args.id if args.id is not None else _only(left, household)
    event, gone = settle(household, event_id, args.owner, request.now, args.by)
    request.saved = True
    settings = household.dog_log(args.owner).settings
    words = f"{settings.clock(event.at)} {describe(event, settings, whole=True)}"
    print(f"It was {printable(settings.dog.name)}: {words}.")
    if gone:
        print(f"Taken out of the log of {', '.join(map(printable, gone))}.")
    return DONE


_NONE: Final = "No accident is waiting for an owner."


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


def undo_options(parser: ArgumentParser) -> None:
    """Add who takes it back."""
    parser.add_argument("--by", metavar="NAME", default="", help="who takes it back")


def run_undo(request: Request) -> int:
    """Take back the last change of one dog's log, and what it meant for the others'."""
    undone = undo(request.household, request.dog_log, request.now, request.args.by)
    request.saved = True
    print(undone_text(undone.words, request.situation()))
    return DONE
