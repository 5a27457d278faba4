"""The command ``setup``: its options are the questions of the set-up."""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from datetime import datetime
from typing import Final

from msgspec.structs import replace

from pottyboard.cli.commands.request import Request, on_terminal, opened, zone_here
from pottyboard.cli.output.messages import DONE, UsageError, warn
from pottyboard.core.model.alarms import Alarms
from pottyboard.core.model.localtime import TimeError, zone_named
from pottyboard.core.model.printable import printable
from pottyboard.core.model.questions import QUESTIONS, default_answers
from pottyboard.core.model.understood import understood
from pottyboard.core.view.situation import situation
from pottyboard.papers.replies import set_up_text
from pottyboard.store import DogLog
from pottyboard.store.system.errors import NoSettingsError


def setup_options(parser: ArgumentParser) -> None:
    """Add an option for each question."""
    parser.add_argument("--another", action="store_true", help="set up one more dog in this home")
    for name, words in _OF_THE_HOME.items():
        parser.add_argument(f"--{name}", metavar="ANSWER", help=words)
    parser.add_argument(
        "--ring", action="store_true", help="ring now, as the alarms are set, and say what was done"
    )
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
        if not (given or args.ring):
            return DONE
    if not given and args.ring:
        print(_rung(request.dog_log.settings.board.alarms))
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
    for key, words in understood({"zone": settings.home.zone, **given}, now).items():
        if key in given:
            print(f"Understood --{key}: {printable(words, 1000)}")
    if args.ring:
        print(_rung(settings.board.alarms))
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


def _rung(alarms: Alarms) -> str:
    """Ring on this terminal, if it is one, and by the household's program; return what was done."""
    from pottyboard.board.alarms.notifier import shown_by
    from pottyboard.board.alarms.ringer import TRIAL, TRIAL_BODY, tried_words
    from pottyboard.board.alarms.sequences import BELL
    from pottyboard.board.alarms.terminals import Terminal, terminal_of

    # A title would go with the end of this command.
    here = sys.stdout.isatty()
    terminal = terminal_of(os.environ)._replace(titles=False) if here else Terminal()
    alarms = replace(alarms, bell=alarms.bell and here, title=False)
    bell = BELL if alarms.bell else ""
    sys.stdout.write(bell + terminal.notice_of(alarms.notice, TRIAL, TRIAL_BODY))
    sys.stdout.flush()
    problem = shown_by(alarms.notifier, TRIAL) if alarms.notifier else ""
    ran = bool(alarms.notifier) and not problem
    return f"{tried_words(alarms, terminal, ran=ran)} {problem}".rstrip()


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
