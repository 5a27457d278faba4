"""What can be typed: the commands, their options and their words, most of them made from tables.

The options of ``setup`` are the questions of the set-up.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import Any, Final

from msgspec import Struct

from pottyboard.cli.commands.log_options import WHEN, log_options
from pottyboard.cli.commands.transfer_options import export_options, import_options
from pottyboard.core.model.questions import QUESTIONS

_HOME: Final = "where the logs are (default: POTTYBOARD_HOME, else the user's folder for data)"


class Command(Struct, frozen=True):
    """One command: its ``name``, what ``follows`` it, its ``words``, its options and examples."""

    name: str
    follows: str
    words: str
    add_options: Callable[[argparse.ArgumentParser], object]
    examples: tuple[str, ...]


def command_line() -> argparse.ArgumentParser:
    """Return the parser; its ``command`` is a name of :data:`COMMANDS`, empty for none."""
    parser = argparse.ArgumentParser(
        prog="pottyboard",
        description="When is the next break due, why, and how sure are we? Without a command the\n"
        "board opens; where there is no terminal the situation is printed instead.",
        **_form(
            "pottyboard setup --name Bramble --weight 8 --up 06:30 --bed 22:30",
            "pottyboard",
            "pottyboard log pee --ago 20",
            "pottyboard demo",
        ),
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="show the version and exit")
    _everywhere(parser)
    parser.set_defaults(command="", home=None, dog=None)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    for command in COMMANDS:
        words = command.words
        made = commands.add_parser(
            command.name,
            usage=f"pottyboard {command.name} {command.follows}",
            help=words,
            description=f"{words[:1].upper()}{words[1:]}.",
            **_form(*command.examples),
        )
        made.set_defaults(command=command.name)
        command.add_options(made)
        _everywhere(made)
    return parser


class _Version(argparse.Action):
    """Prints the version of the installed program, which stands in its metadata alone."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        from importlib.metadata import PackageNotFoundError, version

        try:
            number = version("pottyboard")
        except PackageNotFoundError:
            number = "(not installed)"
        print(f"pottyboard {number}")
        parser.exit()


def _form(*examples: str) -> dict[str, Any]:
    return {
        "epilog": "\n  ".join(("examples:", *examples)),
        "formatter_class": argparse.RawDescriptionHelpFormatter,
        "allow_abbrev": False,
    }


def _everywhere(parser: argparse.ArgumentParser) -> None:
    """Add what may stand before or after a command's name, without a default of its own."""
    group = parser.add_argument_group("everywhere")
    left_out = argparse.SUPPRESS
    group.add_argument("--home", metavar="DIR", default=left_out, help=_HOME)
    group.add_argument(
        "--dog", metavar="NAME", default=left_out, help="which dog, where there are several"
    )


# --- The set-up -----------------------------------------------------------------------------------


def _setup_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--another", action="store_true", help="set up one more dog in this home")
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


def answers_given(args: argparse.Namespace) -> dict[str, str]:
    """Return the answers that were typed, by the key of the question."""
    typed = {question.key: getattr(args, _dest(question.key)) for question in QUESTIONS}
    return {key: answer for key, answer in typed.items() if answer is not None}


def _dest(key: str) -> str:
    return f"answer {key}"


# --- The other commands ---------------------------------------------------------------------------


def _undo_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--by", metavar="NAME", default="", help="who takes it back")


def _whose_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("owner", nargs="?", metavar="NAME", help="the dog it was; none lists them")
    parser.add_argument("--id", metavar="ID", help="which accident, where there are several")
    parser.add_argument("--by", metavar="NAME", default="", help="who says so")


def _now_options(parser: argparse.ArgumentParser) -> None:
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="for other programs")
    form.add_argument("--line", action="store_true", help="in one line")
    parser.add_argument("--all", action="store_true", help="every dog of the home")
    parser.add_argument("--at", metavar="WHEN", help=f"at another time: {WHEN}")


def _day_options(parser: argparse.ArgumentParser) -> None:
    words = "2026-03-02, yesterday, or a day number such as 3"
    parser.add_argument("date", nargs="?", metavar="DATE", help=words)


def _visits_options(parser: argparse.ArgumentParser) -> None:
    _days_options(parser)
    parser.add_argument("--ics", metavar="FILE", help="write them as a calendar; again updates it")
    parser.add_argument("--json", action="store_true", help="for other programs")


def _sheet_options(parser: argparse.ArgumentParser) -> None:
    _days_options(parser)
    parser.add_argument("--helper", metavar="NAME", default="", help="one helper's visits alone")
    parser.add_argument("--html", metavar="FILE", help="write it as a page to print")


def _days_options(parser: argparse.ArgumentParser) -> None:
    words = "the first day: 2026-03-02, tomorrow, or a day number (default: today)"
    parser.add_argument("--from", dest="date", metavar="DATE", help=words)
    parser.add_argument("--days", type=int, metavar="N", default=7, help="how many (default: 7)")


def _report_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "text", nargs="*", metavar="TEXT", help="the message; - reads it from stdin"
    )
    parser.add_argument("--by", metavar="NAME", required=True, help="who was there")
    parser.add_argument("--day", dest="date", metavar="DATE", help="of which day its times are")


def _diary_options(parser: argparse.ArgumentParser) -> None:
    words = "the first day: 2026-03-02, yesterday, or a day number (default: the arrival)"
    parser.add_argument("--from", dest="date", metavar="DATE", help=words)
    parser.add_argument("--days", type=int, metavar="N", help="how many (default: up to today)")
    parser.add_argument("--html", metavar="FILE", help="write it as a page to read and print")


def _review_options(parser: argparse.ArgumentParser) -> None:
    words = "the first day: 2026-03-02, yesterday, or a day number (default: the last days)"
    parser.add_argument("--from", dest="date", metavar="DATE", help=words)
    parser.add_argument("--days", type=int, metavar="N", help="how many (default: 14)")
    parser.add_argument("--html", metavar="FILE", help="write it as a page with drawings")


def _demo_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", nargs="?", metavar="NAME", help="which sample log")
    parser.add_argument("--list", action="store_true", help="name the sample logs")


def _no_options(parser: argparse.ArgumentParser) -> None:
    """Add nothing."""


COMMANDS: Final = (
    Command(
        "setup",
        "[--QUESTION ANSWER ...]",
        "set up a dog, or change answers of the set-up",
        _setup_options,
        (
            "pottyboard setup --name Bramble --weight 8 --meals 07:00,17:30 --zone Europe/Oslo",
            "pottyboard setup --bed 23:00",
            "pottyboard setup                (opens the form)",
        ),
    ),
    Command(
        "log",
        "KIND [--at WHEN | --ago SPAN] [--note TEXT] [--by NAME] [...]",
        "log what happened",
        log_options,
        (
            "pottyboard log pee",
            'pottyboard log poop --ago 20 --place "back gate"',
            "pottyboard log pee-inside --found --dry 13:30 --at 14:10 --place hall",
            "pottyboard log water --ml 200",
        ),
    ),
    Command(
        "undo",
        "[--by NAME]",
        "take back the last entry, correction or deletion",
        _undo_options,
        ("pottyboard undo",),
    ),
    Command(
        "whose",
        "[NAME] [--id ID] [--by NAME]",
        "say which dog an accident was, where that was not known",
        _whose_options,
        ("pottyboard whose", "pottyboard whose Wren"),
    ),
    Command(
        "now",
        "[--json | --line] [--at WHEN] [--all]",
        "say when the next break is due, and why",
        _now_options,
        (
            "pottyboard now",
            "pottyboard now --line",
            'pottyboard now --json --at "2026-03-02 11:00"',
        ),
    ),
    Command(
        "day",
        "[DATE]",
        "show a day: what was planned beside what was logged",
        _day_options,
        ("pottyboard day", "pottyboard day yesterday", "pottyboard day 3"),
    ),
    Command(
        "visits",
        "[--from DATE] [--days N] [--ics FILE] [--json]",
        "plan the visits for the days away, and what they cost",
        _visits_options,
        (
            "pottyboard visits",
            "pottyboard visits --from tomorrow --days 14 --ics visits.ics",
        ),
    ),
    Command(
        "sheet",
        "[--from DATE] [--days N] [--helper NAME] [--html FILE]",
        "make the handover sheet for a walker or sitter, on one page",
        _sheet_options,
        ("pottyboard sheet", "pottyboard sheet --helper Mina --html sheet.html"),
    ),
    Command(
        "report",
        "[TEXT | -] --by NAME [--day DATE]",
        "log what a helper's message says",
        _report_options,
        (
            'pottyboard report "12:10 pee, 12:14 poop, water, all calm" --by Mina',
            "pottyboard report --by Mina --day yesterday < message.txt",
        ),
    ),
    Command(
        "export",
        "[--csv FILE | --jsonl FILE] [--from DATE] [--days N]",
        "write the log as a table or as JSON Lines",
        export_options,
        (
            "pottyboard export --csv bramble.csv",
            "pottyboard export --from 2026-03-02 --days 7 > week.csv",
            "pottyboard export --jsonl bramble.jsonl",
        ),
    ),
    Command(
        "import",
        "FILE [--yes] [--map TEXT] [--words TEXT] [--order ORDER] [--day DATE] [--by NAME]",
        "read a table, such as a paper log typed into a spreadsheet",
        import_options,
        (
            "pottyboard import bramble.csv",
            "pottyboard import paper.csv --order day-first --by Mina",
            'pottyboard import paper.csv --map "Hour=clock,Remarks=note" --yes',
        ),
    ),
    Command(
        "diary",
        "[--from DATE] [--days N] [--html FILE]",
        "make the health diary for the vet, from the household's log",
        _diary_options,
        (
            "pottyboard diary",
            "pottyboard diary --html diary.html",
            "pottyboard diary --from 2026-03-02 --days 7",
        ),
    ),
    Command(
        "review",
        "[--from DATE] [--days N] [--html FILE]",
        "look back on two weeks: the story, the data behind it, and what comes next",
        _review_options,
        (
            "pottyboard review",
            "pottyboard review --html review.html",
            "pottyboard review --from 1 --days 28",
        ),
    ),
    Command(
        "demo",
        "[NAME] [--list]",
        "open a sample log in a temporary home; your own log is not touched",
        _demo_options,
        ("pottyboard demo", "pottyboard demo --list"),
    ),
    Command(
        "check",
        "",
        "read everything; report damage, counts and where the log is",
        _no_options,
        ("pottyboard check",),
    ),
)
