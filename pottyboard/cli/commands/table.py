"""The one table of commands. A command is a row here and two functions in the room it names.

The room is loaded only when its command is typed: ``log`` loads nothing of ``review``.
"""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Callable
from importlib import import_module
from typing import Any, Final, NamedTuple

from pottyboard.cli.commands.request import Request


class Command(NamedTuple):
    """One command.

    ``room`` is the module of this folder with its functions: ``NAME_options`` adds its options to
    a parser, ``run_NAME`` does it and returns the exit code. ``usage`` is what follows the name,
    ``help`` one line about it, ``also`` an older name that still works.
    """

    name: str
    room: str
    usage: str
    help: str
    examples: tuple[str, ...]
    also: str = ""

    @property
    def add_options(self) -> Callable[[ArgumentParser], None]:
        """What adds the options of this command to a parser."""
        found: Callable[[ArgumentParser], None] = self._function(f"{self.name}_options")
        return found

    @property
    def run(self) -> Callable[[Request], int]:
        """What does it, and returns the exit code."""
        found: Callable[[Request], int] = self._function(f"run_{self.name}")
        return found

    def _function(self, name: str) -> Any:
        return getattr(import_module(f"pottyboard.cli.commands.{self.room}"), name)


COMMANDS: Final = (
    Command(
        "setup", "setup", "[--QUESTION ANSWER ...]",
        "set up a dog, or change answers of the set-up",
        (
            "pottyboard setup --name Bramble --weight 8 --meals 07:00,17:30 --zone Europe/Oslo",
            "pottyboard setup --bed 23:00",
            "pottyboard setup                (opens the form)",
        ),
    ),
    Command(
        "log", "log", "KIND [--at WHEN | --ago SPAN] [--note TEXT] [--by NAME] [...]",
        "log what happened",
        (
            "pottyboard log pee",
            'pottyboard log poop --ago 20 --place "back gate"',
            "pottyboard log pee-inside --found --dry 13:30 --at 14:10 --place hall",
            "pottyboard log water --ml 200",
        ),
    ),
    Command(
        "dogs", "dogs", "[archive NAME | back NAME | rename NAME NEW]",
        "list the dogs; archive one, bring it back, give it another name",
        ("pottyboard dogs", "pottyboard dogs rename Wren Robin", "pottyboard dogs archive Robin"),
    ),
    Command(
        "undo", "dogs", "[--redo] [--by NAME]",
        "take back the last entry, correction or deletion; or the last undo",
        ("pottyboard undo", "pottyboard undo --redo"),
    ),
    Command(
        "whose", "dogs", "[NAME] [--id ID] [--by NAME]",
        "say which dog an accident was, where that was not known",
        ("pottyboard whose", "pottyboard whose Wren"),
    ),
    Command(
        "now", "now", "[--json | --line] [--at WHEN] [--all]",
        "say when the next break is due, and why",
        (
            "pottyboard now",
            "pottyboard now --line",
            'pottyboard now --json --at "2026-03-02 11:00"',
        ),
    ),
    Command(
        "day", "now", "[DATE]",
        "show a day: what was planned beside what was logged",
        ("pottyboard day", "pottyboard day yesterday", "pottyboard day 3"),
    ),
    Command(
        "visits", "handover", "[--from DATE] [--days N] [--ics FILE] [--json]",
        "plan the visits for the days away, and what they cost",
        (
            "pottyboard visits",
            "pottyboard visits --from tomorrow --days 14 --ics visits.ics",
        ),
    ),
    Command(
        "calendar", "calendar", "FILE [--days N] [--alarm MIN | no] [--numbers]",
        "write the plan as a calendar for your phones; again renews the file",
        ("pottyboard calendar plan.ics", "pottyboard calendar plan.ics --days 2 --alarm 10"),
    ),
    Command(
        "sheet", "handover", "[--from DATE] [--days N] [--helper NAME] [--html FILE]",
        "make the handover sheet for a walker or sitter, on one page",
        ("pottyboard sheet", "pottyboard sheet --helper Mina --html sheet.html"),
    ),
    Command(
        "message", "handover", "[TEXT | -] --by NAME [--day DATE]",
        "log what a helper's message says",
        (
            'pottyboard message "12:10 pee, 12:14 poop, water, all calm" --by Mina',
            "pottyboard message --by Mina --day yesterday < message.txt",
        ),
        also="report",
    ),
    Command(
        "export", "transfer",
        "[--csv FILE | --jsonl FILE | --numbers FILE] [--from DATE] [--days N]",
        "write the log as a table or as JSON Lines",
        (
            "pottyboard export --csv bramble.csv",
            "pottyboard export --from 2026-03-02 --days 7 > week.csv",
            "pottyboard export --jsonl bramble.jsonl",
        ),
    ),
    Command(
        "import", "transfer",
        "FILE [--yes] [--map TEXT] [--words TEXT] [--order ORDER] [...]",
        "read a table, such as a paper log typed into a spreadsheet",
        (
            "pottyboard import bramble.csv",
            "pottyboard import paper.csv --order day-first --by Mina",
            'pottyboard import paper.csv --map "Hour=clock,Remarks=note" --yes',
        ),
    ),
    Command(
        "diary", "lookback", "[--from DATE] [--days N] [--html FILE]",
        "make the health diary for the vet, from the household's log",
        (
            "pottyboard diary",
            "pottyboard diary --html diary.html",
            "pottyboard diary --from 2026-03-02 --days 7",
        ),
    ),
    Command(
        "review", "lookback", "[--from DATE] [--days N] [--html FILE]",
        "look back on two weeks: the story, the data behind it, and what comes next",
        (
            "pottyboard review",
            "pottyboard review --html review.html",
            "pottyboard review --from 1 --days 28",
        ),
    ),
    Command(
        "demo", "demo", "[NAME] [--list]",
        "open a sample log in a temporary home; your own log is not touched",
        ("pottyboard demo", "pottyboard demo --list"),
    ),
    Command(
        "check", "check", "[--noted]",
        "read everything; report damage, counts and where the log is",
        ("pottyboard check", "pottyboard check --noted"),
    ),
    Command(
        "restore", "check", "[VERSION] [--yes]",
        "bring back entries from a backup, or from a file kept aside",
        ("pottyboard restore", "pottyboard restore 2", "pottyboard restore 2 --yes"),
    ),
    Command(
        "completion", "completion", "bash | zsh | fish",
        "print a script that lets the shell complete what is typed",
        (
            "pottyboard completion bash",
            "pottyboard completion fish | source",
        ),
    ),
)  # fmt: skip

BOARD: Final = Command("board", "board", "", "", ())
"""What is done without a command."""
