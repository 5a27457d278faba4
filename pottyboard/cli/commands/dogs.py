"""The commands about several logs at once: whose an accident was, and taking a change back."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Callable, Iterator
from typing import Final

from pottyboard.cli.commands.request import Request
from pottyboard.cli.output.messages import DONE, UsageError
from pottyboard.core.model.describe import describe
from pottyboard.core.model.events import EventError
from pottyboard.core.model.printable import printable
from pottyboard.papers.replies import redo_command, undone_text
from pottyboard.store import DogLog, Household, StoreError
from pottyboard.store.shared import Unsettled, redo, settle, undo, unsettled


def dogs_options(parser: ArgumentParser) -> None:
    """Add what is done with which dog."""
    parser.add_argument("words", nargs="*", metavar="WORDS", help="see the examples; none lists")


def run_dogs(request: Request) -> int:
    """List the dogs, archive one, bring one back, or give one another name."""
    words, household = request.args.words, request.household
    if not words:
        print(*_dogs(household), sep="\n")
    elif words[0] == "archive" and len(words) == 2:
        name = printable(household.archive(words[1]))
        print(f"{name} is archived: its log is kept. To bring it back: pottyboard dogs back {name}")
    elif words[0] == "back" and len(words) == 2:
        print(f"{printable(household.bring_back(words[1]))} is back.")
    elif words[0] == "rename" and len(words) == 3:
        dog_log = household.dog_log(words[1])
        before = dog_log.settings.dog.name
        after = dog_log.save_answers({**dog_log.answers, "name": words[2]}, request.now).dog.name
        print(f"{printable(before)} is called {printable(after)} now. The log goes on.")
    else:
        raise UsageError(
            "Write such as: pottyboard dogs rename Wren Robin, dogs archive Robin, dogs back Robin"
        )
    return DONE


def _dogs(household: Household) -> Iterator[str]:
    """Yield a line for each dog, the archived ones last."""
    called = household.called()
    for folder in (*called, *household.archived()):
        dog_log = DogLog(household.folder / folder)
        try:
            dog = dog_log.settings.dog
        except StoreError as error:
            yield f"{folder}: {error}"
            continue
        name = printable(called.get(folder, dog.name))
        archived = "" if folder in called else ", archived"
        yield f"{name}, {dog.weight_words}, since {dog.arrived:%Y-%m-%d}{archived}"
    if not called:
        yield "No dog lives here. Set one up with: pottyboard setup"


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
        settings = household.in_folder(each.dogs[0]).settings
        at = each.event.at.astimezone(settings.zone)
        words = describe(each.event, settings, whole=True)
        return f"{at:%a %Y-%m-%d %H:%M}  {words}  [{each.event.id}: {', '.join(each.dogs)}]"

    return line


def undo_options(parser: ArgumentParser) -> None:
    """Add who takes it back, and the way forward again."""
    parser.add_argument("--by", metavar="NAME", default="", help="who takes it back")
    parser.add_argument(
        "--redo", action="store_true", help="take the last undo back, if nothing was logged since"
    )


def run_undo(request: Request) -> int:
    """Take back the last change of one dog's log, or the last undo, and what it meant for the
    others'."""
    args = request.args
    take = redo if args.redo else undo
    undone = take(request.household, request.dog_log, request.now, args.by)
    request.saved = True
    forward = "" if args.redo else redo_command(args.dog)
    print(undone_text(undone.words, request.situation(), forward))
    return DONE
