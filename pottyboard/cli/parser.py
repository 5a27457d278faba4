"""Reads a command line by the table of commands; only the typed command's options are made."""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from typing import Any, Final, NoReturn

from pottyboard.cli.commands.table import BOARD, COMMANDS, Command
from pottyboard.cli.output.messages import UsageError

_HOME: Final = "where the logs are (default: POTTYBOARD_HOME, else the user's folder for data)"
_TAKES_ONE: Final = ("--home", "--dog")
_HELP: Final = "help"
_EXPLAINS: Final = "explain a command, or one of: keys states kinds settings"
_TOP_USAGE: Final = "pottyboard [--home DIR] [--dog NAME] [COMMAND ...]"


def read_line(argv: Sequence[str]) -> tuple[Command, argparse.Namespace]:
    """Return the command that was typed, and its options.

    Raises :class:`UsageError` for what cannot be read, ``SystemExit`` after ``--help`` and
    ``--version``.
    """
    at = _place_of_command(argv)
    if at is None:
        return BOARD, _top().parse_args(argv)
    after = argv[at + 1 :]
    if argv[at] == _HELP:
        return BOARD, _helped(after[0] if after else "").parse_args(["--help"])
    command = _named(argv[at])
    return command, _parser_of(command).parse_args([*argv[:at], *after])


def _helped(name: str) -> argparse.ArgumentParser:
    """Return the parser of what help was asked about; a topic is printed here and ends it."""
    if not name:
        return _top()
    from pottyboard.board.keys.handbook import TOPICS, topic_text

    for topic in TOPICS:
        if topic.name == name:
            print(topic_text(topic, {}, "drawn"))
            raise SystemExit(0)
    return _parser_of(_named(name, tuple(topic.name for topic in TOPICS)))


def _place_of_command(argv: Sequence[str]) -> int | None:
    """Return where the command's name stands: the first word that belongs to no option."""
    at = 0
    while at < len(argv):
        if not argv[at].startswith("-"):
            return at
        at += 2 if argv[at] in _TAKES_ONE else 1
    return None


def _named(name: str, also: tuple[str, ...] = ()) -> Command:
    """Return a command by its name; ``also`` are names that would have been understood too."""
    for command in COMMANDS:
        if name in (command.name, command.also or None):
            return command
    names = [*(command.name for command in COMMANDS), *also, _HELP]
    near = _nearest(name.casefold(), names)
    hint = f"Did you mean {near}?" if near else f"Commands: {' '.join(names)}."
    raise UsageError(f"“{name}” is not a command. {hint}", f"usage: {_TOP_USAGE}")


def _nearest(typed: str, known: Sequence[str]) -> str:
    """Return which of the known words was meant, empty if none is like it."""
    import difflib  # only to say what was meant: a line without a slip needs none of it

    return next(iter(difflib.get_close_matches(typed, known, n=1, cutoff=0.5)), "")


class _Parser(argparse.ArgumentParser):
    """A parser that says what to type in place of what it could not read."""

    def error(self, message: str) -> NoReturn:
        """Raise the message in our own words."""
        unknown = re.fullmatch(r"unrecognized arguments: (.*)", message, re.DOTALL)
        words = self._unknown(unknown[1]) if unknown else _said(message)
        raise UsageError(words, self.format_usage().rstrip())

    def _unknown(self, typed: str) -> str:
        """Return what to type in place of what is no option here."""
        known = re.findall(r"--[a-z][a-z-]*", self.format_help())
        near = _nearest(typed.split(" ")[0], known) if typed.startswith("--") else ""
        hint = f"Did you mean {near}?" if near else f"All options: {self.prog} --help"
        return f"“{typed}” is not understood here. {hint}"


_SAYS: Final = (
    (r"argument (.+): not allowed with argument (.+)", r"\2 or \1: keep one."),
    (r"argument (.+): expected one argument", r"\1: something must follow it."),
    (r"argument (.+): ignored explicit argument .*", r"\1: nothing may follow it."),
    (r"the following arguments are required: (.+)", r"\1 is missing."),
    (r"argument (?:[A-Z]+): (.*)", r"\1"),
    (r"argument (.+?): (.*)", r"\1: \2"),
)
"""What argparse says, and what we say."""


def _said(message: str) -> str:
    for pattern, words in _SAYS:
        found = re.fullmatch(pattern, message, re.DOTALL)
        if found:
            return found.expand(words)
    return message


def _parser_of(command: Command) -> argparse.ArgumentParser:
    parser = _Parser(
        prog=f"pottyboard {command.name}",
        usage=f"pottyboard {command.name} {command.usage}".rstrip(),
        description=f"{command.help[:1].upper()}{command.help[1:]}.",
        **_form(*command.examples),
    )
    command.add_options(parser)
    _everywhere(parser)
    return parser


def _top() -> argparse.ArgumentParser:
    """Return the parser of what may stand without a command."""
    listed = "\n".join(f"  {command.name:8} {command.help}" for command in COMMANDS)
    listed += f"\n  {_HELP:8} {_EXPLAINS}"
    form = _form(
        "pottyboard setup --name Bramble --weight 8 --up 06:30 --bed 22:30",
        "pottyboard",
        "pottyboard log pee --ago 20",
        "pottyboard demo",
    )
    parser = _Parser(
        prog="pottyboard",
        usage=_TOP_USAGE,
        description="When is the next break due, why, and how sure are we? Without a command the\n"
        "board opens; where there is no terminal the situation is printed instead.",
        **form | {"epilog": f"commands:\n{listed}\n\n{form['epilog']}"},
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="show the version and exit")
    _everywhere(parser)
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
    group = parser.add_argument_group("everywhere")
    group.add_argument("--home", metavar="DIR", help=_HOME)
    group.add_argument("--dog", metavar="NAME", help="which dog, where there are several")
