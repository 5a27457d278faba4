"""Completion for three shells, made from what each command takes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from msgspec import Struct

PROGRAM: Final = "pottyboard"


class Option(Struct, frozen=True):
    """One option: its ``flag``, a line about it, whether a value follows, and the known values.

    ``is_file`` says that the value names a file.
    """

    flag: str
    help: str
    takes_value: bool = False
    values: tuple[str, ...] = ()
    is_file: bool = False


class Taken(Struct, frozen=True):
    """What may follow one command: its options, and the words that it takes without one."""

    name: str
    help: str
    options: tuple[Option, ...] = ()
    words: tuple[str, ...] = ()


def bash(commands: Sequence[Taken], everywhere: Sequence[Option]) -> str:
    """Return a script for bash 4 or later."""
    after = _cases(commands, everywhere, _bash_quoted, "{}")
    known = [
        f"        {each.name}) words={_bash_quoted(_listed(each, everywhere))} ;;"
        for each in commands
    ]
    first = " ".join([*(each.name for each in commands), *(o.flag for o in everywhere)])
    return "\n".join(
        (
            f'# Completion for bash: eval "$({PROGRAM} completion bash)"',
            f"_{PROGRAM}() {{",
            "    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]}",
            "    local command= words= at",
            "    for ((at = 1; at < COMP_CWORD; at++)); do",
            "        case ${COMP_WORDS[at]} in",
            f"        {_which_take(everywhere)}) ((at++)) ;;",
            "        -*) ;;",
            "        *) command=${COMP_WORDS[at]}; break ;;",
            "        esac",
            "    done",
            "    COMPREPLY=()",
            '    case "$command $prev" in',
            *after,
            "    *)",
            '        case "$command" in',
            *known,
            f'        "") words={_bash_quoted(first)} ;;',
            "        esac ;;",
            "    esac",
            '    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$cur")',
            "}",
            f"complete -o default -F _{PROGRAM} {PROGRAM}",
            "",
        )
    )


def zsh(commands: Sequence[Taken], everywhere: Sequence[Option]) -> str:
    """Return a script for zsh 5 or later, whose completion system is on (``compinit``)."""
    after = _cases(commands, everywhere, _zsh_array, "known=({})")
    known = [
        f"        {each.name}) known=({_zsh_described(each, everywhere)}) ;;" for each in commands
    ]
    first = " ".join(
        _bash_quoted(f"{name}:{help_}")
        for name, help_ in [
            *((each.name, each.help) for each in commands),
            *((option.flag, option.help) for option in everywhere),
        ]
    )
    return "\n".join(
        (
            f"#compdef {PROGRAM}",
            f'# Completion for zsh: eval "$({PROGRAM} completion zsh)"',
            f"_{PROGRAM}() {{",
            "    local command= at prev=${words[CURRENT-1]}",
            "    local -a known",
            "    for ((at = 2; at < CURRENT; at++)); do",
            "        case ${words[at]} in",
            f"        {_which_take(everywhere)}) ((at++)) ;;",
            "        -*) ;;",
            "        *) command=${words[at]}; break ;;",
            "        esac",
            "    done",
            '    case "$command $prev" in',
            *after,
            "    *)",
            '        case "$command" in',
            *known,
            f'        "") known=({first}) ;;',
            "        esac ;;",
            "    esac",
            "    if (( $#known )); then",
            f"        _describe {PROGRAM} known",
            "    else",
            "        _files",
            "    fi",
            "}",
            f"(( $+functions[compdef] )) && compdef _{PROGRAM} {PROGRAM}",
            "",
        )
    )


def fish(commands: Sequence[Taken], everywhere: Sequence[Option]) -> str:
    """Return a script for fish 3 or later."""
    lines = [
        f"# Completion for fish: {PROGRAM} completion fish | source",
        f"complete -c {PROGRAM} -f",
    ]
    lines += [_fish_option(option, "") for option in everywhere]
    for each in commands:
        lines.append(
            f"complete -c {PROGRAM} -n __fish_use_subcommand -a {each.name} "
            f"-d {_fish_quoted(each.help)}"
        )
        seen = f"__fish_seen_subcommand_from {each.name}"
        if each.words:
            lines.append(
                f"complete -c {PROGRAM} -n {_fish_quoted(seen)} "
                f"-a {_fish_quoted(' '.join(each.words))}"
            )
        lines += [_fish_option(option, seen) for option in each.options]
    return "\n".join((*lines, ""))


SHELLS: Final[dict[str, Callable[[Sequence[Taken], Sequence[Option]], str]]] = {
    "bash": bash,
    "zsh": zsh,
    "fish": fish,
}


def _cases(
    commands: Sequence[Taken],
    everywhere: Sequence[Option],
    quoted: Callable[[str], str],
    form: str,
) -> Iterator[str]:
    """Yield a case for each option after which something particular is typed, or nothing known."""
    plain = "words={}" if form == "{}" else form
    for each in commands:
        for option in each.options:
            if option.values:
                words = plain.format(quoted(" ".join(option.values)))
                yield f'    "{each.name} {option.flag}") {words} ;;'
        free = [o.flag for o in each.options if o.takes_value and not o.values]
        if free:
            yield "    " + "|".join(f'"{each.name} {flag}"' for flag in free) + ") ;;"
    yield "    " + "|".join(f'*" {o.flag}"' for o in everywhere if o.takes_value) + ") ;;"


def _which_take(options: Sequence[Option]) -> str:
    return "|".join(option.flag for option in options if option.takes_value)


def _listed(each: Taken, everywhere: Sequence[Option]) -> str:
    return " ".join((*each.words, *(option.flag for option in (*each.options, *everywhere))))


def _bash_quoted(text: str) -> str:
    return "'" + text.replace("'", "'\\''") + "'"


def _zsh_array(text: str) -> str:
    return " ".join(map(_bash_quoted, text.split(" ")))


def _zsh_described(each: Taken, everywhere: Sequence[Option]) -> str:
    rows = [(word, "") for word in each.words]
    rows += [(option.flag, option.help) for option in (*each.options, *everywhere)]
    return " ".join(_bash_quoted(f"{name}:{help_}" if help_ else name) for name, help_ in rows)


def _fish_quoted(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


def _fish_option(option: Option, seen: str) -> str:
    line = f"complete -c {PROGRAM}"
    if seen:
        line += f" -n {_fish_quoted(seen)}"
    line += f" -l {option.flag.removeprefix('--')} -d {_fish_quoted(option.help)}"
    if option.is_file:
        line += " -r -F"
    elif option.takes_value:
        line += " -x"
    if option.values:
        line += f" -a {_fish_quoted(' '.join(option.values))}"
    return line
