"""The command line: does what was typed, and prints what the papers say about it.

Exit codes: 0 done, 1 refused with a reason, 2 usage. The board is imported only when it opens.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
from argparse import Namespace
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Final

from pottyboard.cli.commands.log_options import details_given
from pottyboard.cli.parser import answers_given, command_line
from pottyboard.core.model.events import Event, EventError
from pottyboard.core.model.localtime import TimeError, read_span, read_when, zone_named
from pottyboard.core.model.printable import printable
from pottyboard.core.model.questions import SettingsError, default_answers
from pottyboard.core.model.settings import Settings
from pottyboard.core.review.past_day import DayError, day_as_it_ended
from pottyboard.core.view.situation import Situation, as_json, situation
from pottyboard.papers import PaperError
from pottyboard.papers.plain import day_text, now_line, now_text
from pottyboard.papers.replies import (
    check_text,
    problems_text,
    sample_text,
    saved_text,
    set_up_text,
)
from pottyboard.store import DogLog, Household, StoreError

DONE: Final = 0
REFUSED: Final = 1
USAGE: Final = 2
INTERRUPTED: Final = 130

_LONGEST_WARNING: Final = 2000
_NEAR: Final = {"yesterday": -1, "today": 0, "tomorrow": 1}

Clock = Callable[[], datetime]
"""The one clock: returns the aware instant now."""

_OfDay = Callable[[Namespace, DogLog, datetime, date | None, Callable[[str], None]], bool]


def system_now() -> datetime:
    """Return the instant now, in UTC."""
    return datetime.now(UTC)


def main(argv: Sequence[str] | None = None, *, clock: Clock = system_now) -> int:
    """Run one command and return its exit code.

    Raises ``SystemExit`` for ``--help``, ``--version`` and a command line that cannot be read.
    """
    args = command_line().parse_args(argv)
    for stream in (sys.stdin, sys.stdout, sys.stderr):  # letters that cannot be read or shown
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]
    try:
        done = _DO[args.command](args, clock)
        sys.stdout.flush()
    except SettingsError as error:
        print(problems_text(error.problems), file=sys.stderr)
        return REFUSED
    except (StoreError, EventError, TimeError, PaperError) as error:
        _warn(str(error))
        return REFUSED
    except BrokenPipeError:  # the reader, such as `head`, has had enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except OSError as error:
        _warn(f"{error.filename or 'A file'} cannot be used: {error.strerror}.")
        return REFUSED
    except KeyboardInterrupt:
        return INTERRUPTED
    return done


def _warn(words: str) -> None:
    print(f"pottyboard: {printable(words, _LONGEST_WARNING)}", file=sys.stderr)


# --- The rooms behind the commands ----------------------------------------------------------------


def _household(args: Namespace) -> Household:
    return Household(Household.default_folder(args.home, os.environ))


def _dog_log(args: Namespace) -> DogLog:
    return _opened(_household(args).dog_log(args.dog))


def _opened(dog_log: DogLog) -> DogLog:
    """Read the whole record, so that whatever is wrong with its files is said at once."""
    _ = dog_log.settings, dog_log.events
    for words in dog_log.notices:
        _warn(words)
    return dog_log


def _look(dog_log: DogLog, at: datetime) -> Situation:
    return situation(dog_log.settings, dog_log.events, at)


def _open_board(household: Household, dog: str | None, clock: Clock, set_up: bool = False) -> int:
    from pottyboard import board

    return board.run(household, dog, clock, set_up=set_up)


def _on_terminal() -> bool:
    dumb = os.environ.get("TERM", "") == "dumb"
    return sys.stdin.isatty() and sys.stdout.isatty() and not dumb


def _zone_here(now: datetime) -> str:
    from pottyboard.board.control.clock import zone_of

    return zone_of(now)


# --- The commands ---------------------------------------------------------------------------------


def _board(args: Namespace, clock: Clock) -> int:
    if _on_terminal():
        return _open_board(_household(args), args.dog, clock)
    household = _household(args)
    if args.dog is None and len(household.dogs()) > 1:
        from pottyboard.cli.commands import dogs

        as_text = Namespace(at=None, json=False, line=False)
        return DONE if dogs.now_of_all(as_text, household, clock(), _warn) else REFUSED
    print(now_text(_look(_dog_log(args), clock())))
    return DONE


def _setup(args: Namespace, clock: Clock) -> int:
    household, given, now = _household(args), answers_given(args), clock()
    if not given:
        if _on_terminal():
            return _open_board(household, args.dog, clock, set_up=True)
        _warn("give at least one answer, such as --name Bramble; see pottyboard setup --help")
        return USAGE
    if args.another or not household.dogs():
        dog_log = household.create({**_defaults(given, now), **given}, now)
    else:
        dog_log = household.dog_log(args.dog)
        dog_log.save_answers({**_answers_so_far(dog_log, given, now), **given}, now)
    print(set_up_text(_opened(dog_log).settings, dog_log.folder, _look(dog_log, now)))
    return DONE


def _answers_so_far(dog_log: DogLog, given: Mapping[str, str], now: datetime) -> dict[str, str]:
    """Return the answers of the record, or the defaults where its settings were lost."""
    try:
        return dog_log.answers
    except StoreError as error:
        _warn(str(error))
        return _defaults(given, now)


def _defaults(given: Mapping[str, str], now: datetime) -> dict[str, str]:
    """Return the defaults for a new dog, in the zone that was given or else this computer's."""
    try:
        zone = zone_named(given["zone"].strip()).key if "zone" in given else _zone_here(now)
    except TimeError:  # the answer will be refused with all the others that do not fit
        zone = "UTC"
    return default_answers(now, zone)


def _log(args: Namespace, clock: Clock) -> int:
    dog_log, now = _dog_log(args), clock()
    view, zone, details = _look(dog_log, now), dog_log.settings.zone, details_given(args)
    at = now.replace(microsecond=0)
    if args.at is not None:
        at = read_when(args.at, now, zone)
    elif args.ago is not None:
        at -= timedelta(minutes=read_span(args.ago))
    if "dry" in details:
        details["dry"] = read_when(details["dry"], now, zone)
    if "minutes" in details:
        details["minutes"] = read_span(details["minutes"])
    if "about" in details:
        _check_about(args.kind, details["about"], view)
    by = args.by if args.by is not None else "" if args.kind == "duty" else view.on_duty
    saved = dog_log.add(Event(args.kind, at, by=by, note=args.note, **details), now)
    print(saved_text(saved, _look(dog_log, now), args.dog))
    if saved.unsure or saved.kind == "cleaned":
        from pottyboard.cli.commands import dogs

        if words := dogs.saved_too(_household(args), dog_log, saved, now):
            print(words)
    return DONE


def _check_about(kind: str, about: str, view: Situation) -> None:
    """Raise ``EventError`` unless an entry of ``kind`` can answer ``about``.

    A cleaning answers an accident whose spot is still to clean, a note a warning that stands.
    """
    if kind == "noted":
        known, what = {w.code: w.words for w in view.warnings}, "warning that stands"
    elif kind == "cleaned":
        known = {job.about: job.words for job in view.open_jobs if job.about}
        what = "accident to clean up"
    else:
        known = {account.event.id: account.words for account in view.accidents}
        what = "accident of the last two weeks"
    if about not in known:
        listed = "; ".join(f"{one} ({words.rstrip('.')})" for one, words in known.items())
        raise EventError(f"“{about}” is no {what}. Open: {listed or 'none'}.")


def _undo(args: Namespace, clock: Clock) -> int:
    from pottyboard.cli.commands import dogs

    return DONE if dogs.undo(args, _household(args), _dog_log(args), clock()) else REFUSED


def _whose(args: Namespace, clock: Clock) -> int:
    from pottyboard.cli.commands import dogs

    return DONE if dogs.whose(args, _household(args), clock()) else REFUSED


def _now(args: Namespace, clock: Clock) -> int:
    if args.all:
        from pottyboard.cli.commands import dogs

        done = dogs.now_of_all(args, _household(args), clock(), _warn)
        return DONE if done else REFUSED
    dog_log, now = _dog_log(args), clock()
    at = now if args.at is None else read_when(args.at, now, dog_log.settings.zone)
    view = _look(dog_log, at)
    if args.json:
        print(json.dumps(as_json(view), indent=2))
    else:
        print(now_line(view) if args.line else now_text(view))
    return DONE


def _day(args: Namespace, clock: Clock) -> int:
    dog_log, now = _dog_log(args), clock()
    view = _look(dog_log, now)
    if args.date is not None:
        day = _date(args.date, view.settings, view.date)
        view = day_as_it_ended(dog_log.settings, dog_log.events, day, now)
    print(day_text(view))
    return DONE


def _date(text: str, settings: Settings, today: date) -> date:
    """Read a date, ``today``, the day before or after it, or a day number (arrival = 1)."""
    text = text.strip().lower()
    if text in _NEAR:
        return today + timedelta(days=_NEAR[text])
    if text.isdecimal() and len(text) < 4:
        return settings.first_date + timedelta(days=int(text) - 1)
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise DayError(
            f"“{text}” is not a day: write 2026-03-02, yesterday, or a day number such as 3."
        ) from None


def _hand_over(args: Namespace, clock: Clock) -> int:
    """Do what concerns the people who stand in: ``visits``, ``sheet`` or ``report``."""
    from pottyboard.cli.commands import handover

    return _from_day(handover.DO[args.command], args, clock)


def _read_back(args: Namespace, clock: Clock) -> int:
    """Look back over many days: ``diary`` or ``review``."""
    import gc

    from pottyboard.cli.commands import lookback as reading

    gc.disable()  # a short life with very many values, none of which is garbage
    return _from_day(reading.DO[args.command], args, clock)


def _transfer(args: Namespace, clock: Clock) -> int:
    """Bring the log out or in: ``export`` or ``import``."""
    from pottyboard.cli.commands import transfer

    return _from_day(transfer.DO[args.command], args, clock)


def _from_day(do: _OfDay, args: Namespace, clock: Clock) -> int:
    """Do what a room does for the date that was typed, if one was."""
    dog_log, now = _dog_log(args), clock()
    settings, day = dog_log.settings, None
    if args.date is not None:
        day = _date(args.date, settings, now.astimezone(settings.zone).date())
    return DONE if do(args, dog_log, now, day, _warn) else REFUSED


def _demo(args: Namespace, clock: Clock) -> int:
    from tempfile import TemporaryDirectory

    from pottyboard.store.samples import copy_sample, read_sample, sample_names

    now = clock()
    if args.list:
        for name in sample_names():
            sample = read_sample(name)
            print(sample_text(name, sample.settings, sample.events))
        return DONE
    with TemporaryDirectory(prefix="pottyboard-demo-") as home:
        demo = copy_sample(read_sample(args.name), Path(home), now, _zone_here(now))
        if _on_terminal():
            ahead = demo.opens_at - now
            return _open_board(demo.household, None, lambda: clock() + ahead)
        view = _look(demo.dog_log, demo.opens_at)
        print(now_text(view), day_text(view), sep="\n\n")
    return DONE


def _check(args: Namespace, clock: Clock) -> int:
    household = _household(args)
    damaged = False
    for dog in (args.dog,) if args.dog else household.dogs() or (None,):
        try:
            dog_log = household.dog_log(dog)
            print(check_text(dog_log.folder, dog_log.settings, dog_log.events, dog_log.notices))
            damaged = damaged or bool(dog_log.notices)
        except StoreError as error:
            _warn(str(error))
            damaged = True
    return REFUSED if damaged else DONE


_DO: Final[dict[str, Callable[[Namespace, Clock], int]]] = {
    "": _board,
    "setup": _setup,
    "log": _log,
    "undo": _undo,
    "whose": _whose,
    "now": _now,
    "day": _day,
    "visits": _hand_over,
    "sheet": _hand_over,
    "report": _hand_over,
    "diary": _read_back,
    "review": _read_back,
    "export": _transfer,
    "import": _transfer,
    "demo": _demo,
    "check": _check,
}
