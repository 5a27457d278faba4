"""The command line: reads what was typed, runs its row of the table, says what went wrong.

Exit codes: 0 done, 1 refused with a reason, 2 usage. The board is imported only when it opens.
"""

from __future__ import annotations

import codecs
import contextlib
import os
import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Final

from pottyboard.cli.commands.request import Clock, Request
from pottyboard.cli.output.messages import DONE, INTERRUPTED, REFUSED, USAGE, UsageError, warn
from pottyboard.cli.parser import read_line
from pottyboard.core.model.events import EventError
from pottyboard.core.model.letters import plain, shows_drawn
from pottyboard.core.model.localtime import TimeError
from pottyboard.core.model.questions import SettingsError
from pottyboard.papers import PaperError
from pottyboard.store import StoreError

_PLAIN: Final = "pottyboard.plain"
"""The name under which Python's codecs know what to do with a letter that cannot be shown."""


def system_now() -> datetime:
    """Return the instant now, in UTC."""
    return datetime.now(UTC)


def main(argv: Sequence[str] | None = None, *, clock: Clock = system_now) -> int:
    """Run one command and return its exit code.

    Once something is saved nothing is refused any more: what fails then is said as a warning.
    Raises ``SystemExit`` for ``--help`` and ``--version``.
    """
    _take_any_letter()
    request: Request | None = None
    try:
        command, args = read_line(sys.argv[1:] if argv is None else argv)
        request = Request(args, clock)
        code = command.run(request)
        _show()
    except UsageError as error:
        if error.usage:
            print(error.usage, file=sys.stderr)
        warn(str(error))
        return USAGE
    except SettingsError as error:
        from pottyboard.papers.replies import problems_text

        print(problems_text(error.problems), file=sys.stderr)
        return REFUSED
    except (StoreError, EventError, TimeError, PaperError) as error:
        return _refused(str(error), request)
    except BrokenPipeError:  # the reader, such as `head`, has had enough
        _send_nowhere()
        return DONE
    except OSError as error:
        if error.filename is None:
            _send_nowhere()
        name = error.filename or "Where the answer was to be shown"
        return _refused(f"{name} cannot be used: {error.strerror}.", request)
    except KeyboardInterrupt:
        return INTERRUPTED
    return code


def _take_any_letter() -> None:
    """Read letters that are none, and write those that cannot be shown by what stands in for them.

    A terminal whose system says that it knows only ASCII gets nothing else; files and pipes get
    whatever their encoding can carry.
    """
    codecs.register_error(_PLAIN, lambda error: (plain(_unshown(error)), _end_of(error)))
    with contextlib.suppress(AttributeError, ValueError):
        sys.stdin.reconfigure(errors="replace")  # type: ignore[union-attr]
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError):
            if stream.isatty() and not shows_drawn(stream.encoding, os.environ):
                stream.reconfigure(encoding="ascii", errors=_PLAIN)  # type: ignore[union-attr]
            else:
                stream.reconfigure(errors=_PLAIN)  # type: ignore[union-attr]


def _unshown(error: UnicodeError) -> str:
    assert isinstance(error, UnicodeEncodeError)
    return error.object[error.start : error.end]


def _end_of(error: UnicodeError) -> int:
    assert isinstance(error, UnicodeEncodeError)
    return error.end


def _show() -> None:
    """Let go of what was printed, so that what cannot be shown is known here."""
    with contextlib.suppress(AttributeError):  # closed: there is nobody to show it to
        sys.stdout.flush()


def _send_nowhere() -> None:
    """Drop what was printed and cannot be shown, or the end of the program would try it again."""
    with contextlib.suppress(OSError, AttributeError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _refused(words: str, request: Request | None) -> int:
    """Say why a command was refused, or what went wrong after it had saved; return its code."""
    if request is not None and request.saved:
        warn(f"It is saved. {words}")
        return DONE
    warn(words)
    return REFUSED
