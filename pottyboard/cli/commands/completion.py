"""The command ``completion``: a script for a shell, made from the table of commands."""

from __future__ import annotations

from argparse import SUPPRESS, Action, ArgumentParser
from collections.abc import Iterator
from typing import Final

from pottyboard.cli.commands.request import Request
from pottyboard.cli.commands.table import COMMANDS, Command
from pottyboard.cli.output.completion import SHELLS, Option, Taken
from pottyboard.cli.output.messages import DONE

EVERYWHERE: Final = (
    Option("--home", "where the logs are", takes_value=True, is_file=True),
    Option("--dog", "which dog, where there are several", takes_value=True),
    Option("--help", "show help"),
)
_FIRST_SENTENCE: Final = 60
"""Letters of an option's help that a list of completions has room for."""


def completion_options(parser: ArgumentParser) -> None:
    """Add the shell."""
    parser.add_argument("shell", choices=tuple(SHELLS), metavar="SHELL", help="bash, zsh or fish")


def run_completion(request: Request) -> int:
    """Print the script."""
    print(SHELLS[request.args.shell]([*taken()], EVERYWHERE), end="")
    return DONE


def taken() -> Iterator[Taken]:
    """Yield what each command takes, ``help`` among them."""
    from pottyboard.board.keys.handbook import TOPICS

    for command in COMMANDS:
        options, words = [], [*_words_of(command)]
        for action in _actions_of(command):
            if not action.option_strings:
                words += action.choices or ()
            elif action.help != SUPPRESS:
                options.append(_option(command, action))
        yield Taken(command.name, command.help, tuple(options), tuple(words))
    topics = (topic.name for topic in TOPICS)
    names = (command.name for command in COMMANDS)
    yield Taken("help", "explain a command or a topic", (), (*topics, *names))


def _actions_of(command: Command) -> list[Action]:
    parser = ArgumentParser(add_help=False)
    command.add_options(parser)
    return parser._actions  # the one list of what a parser takes: argparse shows it nowhere else


def _option(command: Command, action: Action) -> Option:
    flag, metavar = action.option_strings[0], str(action.metavar or "")
    words = (action.help or "").replace("%%", "%").split(" (")[0].split("; ")[0]
    if len(words) > _FIRST_SENTENCE:
        words = words[: _FIRST_SENTENCE - 1].rsplit(" ", 1)[0].rstrip(",:(") + " …"
    known = map(str, action.choices or _values_of(command, flag))
    values = tuple(value for value in known if " " not in value)  # or a shell would part them
    return Option(flag, words, action.nargs != 0, values, metavar == "FILE")


def _words_of(command: Command) -> tuple[str, ...]:
    """Return the words that a command takes, beyond those that its parser lists."""
    if command.name == "log":
        from pottyboard.core.model.events import KINDS

        return tuple(KINDS)
    if command.name == "demo":
        from pottyboard.store.samples import sample_names

        return tuple(sample_names())
    return ()


def _values_of(command: Command, flag: str) -> tuple[str, ...]:
    """Return the answers of an option that its own reader checks."""
    name = flag.removeprefix("--")
    if command.name == "log":
        from pottyboard.cli.commands.log import answers_of

        return answers_of(name)
    if command.name == "setup":
        from pottyboard.board.keys.board_file import COLOURS
        from pottyboard.core.model.questions import BY_KEY

        return COLOURS if name == "colours" else BY_KEY[name].choices if name in BY_KEY else ()
    return ()
