"""The command ``setup``: its options are the questions of the set-up."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from datetime import datetime
from typing import Final

from pottyboard.cli.commands.request import Request, on_terminal, opened, zone_here
from pottyboard.cli.output.messages import DONE, UsageError, warn
from pottyboard.core.model.localtime import TimeError, zone_named
from pottyboard.core.model.printable import printable
from pottyboard.core.model.questions import QUESTIONS, default_answers
from pottyboard.core.view.situation import situation
from pottyboard.papers.replies import set_up_text
from pottyboard.store import DogLog
from pottyboard.store.system.errors import NoSettingsError


def setup_options(parser: ArgumentParser) -> None:
    """Add an option for each question."""
    parser.add_argument("--another", action="store_true", help="set up one more dog in this home")
    for name, words in _OF_THE_HOME.items():
        parser.add_argument(f"--{name}", metavar="ANSWER", help=words)
    for question in QUESTIONS:
        words = f"{question.label}: {question.help}" if question.help else question.label
        if question.choices:
            words += f" ({', '.join(question.choices)})"
        if question.default:
            words += f"; default {question.default}"
        parser.add_argument(
            f"--{question.key}",
            dest=_dest(question.key),
            metavar="ANSWER",
            help=words.replace("%", "%%"),
        )


_OF_THE_HOME: Final = {
    "colours": "the board's colours: evening, daylight or terminal",
    "keys": "own keys of the board, such as “accident=f2 note=f3”",
}
"""What is kept for every dog of the home, in its board.toml."""


def _dest(key: str) -> str:
    return f"answer {key}"


def run_setup(request: Request) -> int:
    """Save the answers that were given; without any, open the form where there is a terminal."""
    args, household, now = request.args, request.household, request.now
    given = _answers_given(args)
    if args.colours is not None or args.keys is not None:
        _set_board(request)
        if not given:
            return DONE
    if not given:
        if on_terminal():
            return request.open_board(household, args.dog, request.clock, set_up=True)
        raise UsageError(
            "give at least one answer, such as --name Bramble; see pottyboard setup --help"
        )
    if args.another or not household.dogs():
        dog_log = household.create({**_defaults(given, now), **given}, now)
    else:
        dog_log = household.dog_log(args.dog)
        dog_log.save_answers({**_answers_so_far(dog_log, given, now), **given}, now)
    request.saved = True
    settings = opened(dog_log).settings
    print(set_up_text(settings, dog_log.folder, situation(settings, dog_log.events, now)))
    return DONE


def _set_board(request: Request) -> None:
    """Save the keys and colours of the board."""
    from pottyboard.board.keys.board_file import save_board_file

    try:
        saved = save_board_file(request.household.folder, request.args.colours, request.args.keys)
    except ValueError as error:
        raise UsageError(str(error)) from None
    request.saved = True
    print(f"Saved in {printable(str(saved.path), 400)}.")


def _answers_given(args: Namespace) -> dict[str, str]:
    """Return the answers that were typed, by the key of the question."""
    typed = {question.key: getattr(args, _dest(question.key)) for question in QUESTIONS}
    return {key: answer for key, answer in typed.items() if answer is not None}


def _answers_so_far(dog_log: DogLog, given: Mapping[str, str], now: datetime) -> dict[str, str]:
    """Return the answers of the log, or the defaults where there are none."""
    try:
        return dog_log.answers
    except NoSettingsError as error:
        warn(str(error))
        return _defaults(given, now)


def _defaults(given: Mapping[str, str], now: datetime) -> dict[str, str]:
    """Return the defaults for a new dog, in the zone that was given or else this computer's."""
    try:
        zone = zone_named(given["zone"].strip()).key if "zone" in given else zone_here(now)
    except TimeError:  # the answer will be refused with all the others that do not fit
        zone = "UTC"
    return default_answers(now, zone)
