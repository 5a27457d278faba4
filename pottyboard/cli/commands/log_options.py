"""The options of ``log``: what each kind of entry carries, typed on the command line."""

from __future__ import annotations

import argparse
from typing import Any, Final

from pottyboard.core.model.events import CHOICES, KINDS, EventError, kind_named

WHEN: Final = "10:05, “yesterday 10:05” or “2026-03-02 10:05”"
"""How a time is written, for the help."""

Option = tuple[str, dict[str, Any]]


def _one_of(name: str, words: str) -> tuple[Option, ...]:
    return ((f"--{name}", {"choices": CHOICES[name], "help": words}),)


DETAILS: Final[dict[str, tuple[Option, ...]]] = {
    "place": (("--place", {"metavar": "WHERE", "help": "a room, a spot, or “pad”"}),),
    "found": (
        ("--found", {"action": "store_const", "const": True, "help": "found afterwards"}),
        ("--seen", {"action": "store_const", "const": False, "help": "seen happening"}),
    ),
    "dry": (("--dry", {"metavar": "WHEN", "help": "when the floor was last seen dry"}),),
    "alone": (
        ("--alone", {"action": "store_const", "const": True, "help": "the dog was alone"}),
        ("--not-alone", {"action": "store_const", "const": False, "help": "it had company"}),
    ),
    "cause": _one_of("cause", "why it happened, if the household knows"),
    "amount": _one_of("amount", "how much came"),
    "surface": _one_of("surface", "what it went on"),
    "upright": (
        ("--upright", {"action": "store_const", "const": True, "help": "against something"}),
        (
            "--on-floor",
            {"action": "store_const", "const": False, "help": "on the floor"},
        ),
    ),
    "unsure": (
        ("--unsure", {"action": "store_const", "const": True, "help": "maybe another dog"}),
    ),
    "sleep": _one_of("sleep", "a nap or the night"),
    "sign": _one_of("sign", "which sign"),
    "ml": (("--ml", {"type": float, "metavar": "ML", "help": "millilitres drunk or filled in"}),),
    "rest": (("--rest", {"type": float, "metavar": "ML", "help": "millilitres left before"}),),
    "minutes": (("--minutes", {"metavar": "SPAN", "help": "the interval, 90 or 1h30"}),),
    "finding": _one_of("finding", "what was noticed"),
    "measure": _one_of("measure", "which change of the routine"),
    "about": (("--about", {"metavar": "ID", "help": "which accident or warning: see now --json"}),),
}
"""The options for each field that a kind may carry (``Kind.carries``)."""


def log_options(parser: argparse.ArgumentParser) -> None:
    """Add the options of ``log``: the kind, when, and what each kind carries."""
    kinds = "\n".join(f"  {row.code:12} {row.words}" for row in KINDS.values())
    parser.epilog = f"kinds:\n{kinds}\n\n{parser.epilog}"
    parser.add_argument("kind", type=_kind, metavar="KIND", help="what happened; listed below")
    when = parser.add_mutually_exclusive_group()
    when.add_argument("--at", metavar="WHEN", help=WHEN)
    when.add_argument("--ago", metavar="SPAN", help="20, 45min or 1h30 ago")
    parser.add_argument("--by", metavar="NAME", help="who (default: who is on duty)")
    parser.add_argument("--note", metavar="TEXT", default="", help="anything else, in your words")
    for name, options in DETAILS.items():
        codes = " ".join(row.code for row in KINDS.values() if name in row.carries)
        group = parser.add_mutually_exclusive_group()
        for flag, given in options:
            words = f"{given['help']} (for {codes})"
            group.add_argument(flag, dest=name, default=None, **{**given, "help": words})


def details_given(args: argparse.Namespace) -> dict[str, Any]:
    """Return the details of an entry that were typed, by the field of ``Event``."""
    typed = {name: getattr(args, name) for name in DETAILS}
    return {name: value for name, value in typed.items() if value is not None}


def _kind(code: str) -> str:
    try:
        return kind_named(code).code
    except EventError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
