"""The command ``log``: what each kind of entry carries, typed as options."""

from __future__ import annotations

from argparse import SUPPRESS, ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Callable
from datetime import timedelta
from typing import Any, Final

from pottyboard.cli.commands.request import Request
from pottyboard.cli.output.messages import DONE, UsageError
from pottyboard.core.model.events import ANSWERS, CHOICES, KINDS, Event, EventError, kind_named
from pottyboard.core.model.localtime import WHEN, TimeError, read_span, read_when
from pottyboard.core.model.permitted import permitted, read_millilitres
from pottyboard.core.model.printable import printable
from pottyboard.core.view.answerable import answerable_in
from pottyboard.core.view.situation import Situation
from pottyboard.papers.replies import saved_text
from pottyboard.store.shared import add_all

Option = tuple[str, dict[str, Any]]

_IN_WORDS: Final = {"tiles": "sealed"}
"""Answers that read better than their code."""


def _flag(name: str, value: bool, words: str) -> Option:
    return (f"--{name}", {"action": "store_const", "const": value, "help": words})


def _millilitres(text: str) -> float | None:
    try:
        return read_millilitres(text)
    except EventError as error:
        raise ArgumentTypeError(str(error)) from None


def _choice(allowed: tuple[str, ...]) -> Callable[[str], str]:
    def read(text: str) -> str:
        code = _IN_WORDS.get(text, text)
        if code not in allowed:
            raise ArgumentTypeError(f"“{text}” is not known: use one of {_shown(allowed, ', ')}.")
        return code

    return read


def _shown(codes: tuple[str, ...], between: str) -> str:
    words = {code: word for word, code in _IN_WORDS.items()}
    return between.join(words.get(code, code) for code in codes)


def answers_of(name: str) -> tuple[str, ...]:
    """Return the answers that an option allows, as they are typed; none if it takes any text."""
    words = {code: word for word, code in _IN_WORDS.items()}
    return tuple(words.get(code, code) for code in CHOICES.get(name, ()))


_WIDEST: Final = 80
"""Columns of the longest list of answers that stands beside its option."""


def _one_of(name: str, words: str) -> tuple[Option, ...]:
    allowed = CHOICES[name]
    listed = f"{{{_shown(allowed, ',')}}}"
    if len(listed) > _WIDEST:  # no line breaks within it: the help can be wrapped
        listed, words = "WHAT", f"{words}: {_shown(allowed, ', ')}"
    return ((f"--{name}", {"type": _choice(allowed), "metavar": listed, "help": words}),)


DETAILS: Final[dict[str, tuple[Option, ...]]] = {
    "place": (("--place", {"metavar": "WHERE", "help": "a room, a spot, or “pad”"}),),
    "found": (
        _flag("found", True, "found afterwards"),
        _flag("seen", False, "seen happening"),
    ),
    "dry": (("--dry", {"metavar": "WHEN", "help": "when the floor was last seen dry"}),),
    "alone": (
        _flag("alone", True, "the dog was alone"),
        _flag("not-alone", False, "it had company"),
    ),
    "cause": _one_of("cause", "why it happened, if the household knows"),
    "amount": _one_of("amount", "how much came"),
    "surface": _one_of("surface", "what it went on"),
    "upright": (
        _flag("upright", True, "against something"),
        _flag("on-floor", False, "on the floor"),
    ),
    "unsure": (_flag("unsure", True, "maybe another dog"),),
    "sleep": _one_of("sleep", "a nap or the night"),
    "sign": _one_of("sign", "which signal"),
    "ml": (("--ml", {"type": _millilitres, "metavar": "ML",
                     "help": "millilitres drunk or filled in"}),),
    "rest": (("--left", {"type": _millilitres, "metavar": "ML",
                         "help": "millilitres left in the bowl before"}),),
    "minutes": (("--minutes", {"metavar": "SPAN", "help": "the interval, 90 or 1h30"}),),
    "finding": _one_of("finding", "what was noticed"),
    "measure": _one_of("measure", "which change of the routine"),
    "about": (("--about", {"metavar": "ID", "help": "which accident or warning: see now --json"}),),
    "whom": (("--helper", {"metavar": "NAME", "help": "the helper of the visit"}),),
    "comes": (("--comes", {"metavar": "WHEN", "help": "when the visit begins"}),),
    "means": _one_of("means", "how the helper was told"),
}  # fmt: skip
"""The options for each field that a kind may carry (``Kind.carries``)."""

_EARLIER: Final = {"rest": "--rest"}
"""Options that were called otherwise and still work."""
_LACKS: Final = {"finding": "--finding, or --note", "whom": "--helper"}


def log_options(parser: ArgumentParser) -> None:
    """Add the options of ``log``: the kind, when, and what each kind carries."""
    kinds = "\n".join(f"  {row.code:12} {row.words}" for row in KINDS.values())
    parser.description = f"{parser.description}\n\nkinds:\n{kinds}"
    parser.add_argument("kind", type=_kind, nargs="?", metavar="KIND", help="what happened")
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
            if name in _EARLIER:
                hidden = {**given, "help": SUPPRESS}
                group.add_argument(_EARLIER[name], dest=name, default=None, **hidden)


def _kind(code: str) -> str:
    try:
        return kind_named(code).code
    except EventError as error:
        raise ArgumentTypeError(str(error)) from None


def run_log(request: Request) -> int:
    """Save one entry; say what was saved, how to take it back, and the next break."""
    args = request.args
    if args.kind is None:
        raise UsageError(
            "Say what happened, such as: pottyboard log pee. All kinds: pottyboard log --help"
        )
    dog_log, view = request.dog_log, request.situation()
    try:
        event = permitted(
            _entry(request, view), dog_log.settings.dog, answerable_in(view, dog_log.events)
        )
    except EventError as error:
        raise EventError(f"{error}{_hint(error, args)}", error.field) from None
    (saved,), names = add_all(request.household, dog_log, (event,), request.now)
    request.saved = True
    print(saved_text(saved, request.situation(), args.dog))
    if names and saved.unsure:
        print(
            f"Also in the log of {', '.join(map(printable, names))}. "
            f"When it is known which dog it was: pottyboard whose NAME"
        )
    return DONE


def _entry(request: Request, view: Situation) -> Event:
    """Return the entry that was typed; a cleaning is about the oldest open spot by default."""
    args, now, zone = request.args, request.now, request.dog_log.settings.zone
    details = {name: value for name in DETAILS if (value := getattr(args, name)) is not None}
    for name in details.keys() - set(KINDS[args.kind].carries):
        flags = " or ".join(flag for flag, _ in DETAILS[name])
        raise EventError(f"“{KINDS[args.kind].words}” takes no {flags}: leave it out.")
    at = now.replace(microsecond=0)
    if args.at is not None:
        at = read_when(args.at, now, zone)
    elif args.ago is not None:
        at -= timedelta(minutes=_ago(args.ago))
    for name in {"dry", "comes"} & details.keys():
        details[name] = read_when(details[name], now, zone)
    if "minutes" in details:
        details["minutes"] = read_span(details["minutes"])
    if args.kind == "cleaned" and "place" not in details:
        spots = [job.about for job in view.open_jobs if job.code == "clean"]
        about = details.setdefault("about", spots[0]) if spots else ""
        accident = request.dog_log.find(about)
        details["place"] = accident.place if accident is not None else ""
    if args.kind in ANSWERS:
        asked = (job.about for job in view.open_jobs if args.kind in job.answers)
        details.setdefault("about", next(asked, ""))
    by = args.by if args.by is not None else "" if args.kind == "duty" else view.on_duty
    return Event(args.kind, at, by=by, note=args.note, **details)


def _ago(text: str) -> float:
    try:
        return read_span(text)
    except TimeError as error:
        raise TimeError(f"{error} (or --at “yesterday 10:05”)") from None


def _hint(error: EventError, args: Namespace) -> str:
    """Return with which option to say what an entry lacks; nothing where it was said wrong."""
    field = error.field
    if not field or (field in DETAILS and getattr(args, field) is not None):
        return ""
    return f" Use {_LACKS.get(field, f'--{field}')}." if field != "note" or not args.note else ""
