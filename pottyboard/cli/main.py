"""The command line: reads what was typed, runs its row of the table, says what went wrong.

Exit codes: 0 done, 1 refused with a reason, 2 usage. The board is imported only when it opens.
"""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Sequence
from datetime import UTC, datetime

from pottyboard.cli.commands.request import Clock, Request
from pottyboard.cli.output.messages import DONE, INTERRUPTED, REFUSED, USAGE, UsageError, warn
from pottyboard.cli.parser import read_line
from pottyboard.core.model.events import EventError
from pottyboard.core.model.localtime import TimeError
from pottyboard.core.model.questions import SettingsError
from pottyboard.papers import PaperError
from pottyboard.store import StoreError


def system_now() -> datetime:
    """Return the instant now, in UTC."""
    return datetime.now(UTC)


def main(argv: Sequence[str] | None = None, *, clock: Clock = system_now) -> int:
    """Run one command and return its exit code.

    Raises ``SystemExit`` for ``--help`` and ``--version``.
    """
    for stream in (sys.stdin, sys.stdout, sys.stderr):  # letters that cannot be read or shown
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]
    try:
        command, args = read_line(sys.argv[1:] if argv is None else argv)
        code = command.run(Request(args, clock))
        sys.stdout.flush()
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
        warn(str(error))
        return REFUSED
    except BrokenPipeError:  # the reader, such as `head`, has had enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except OSError as error:
        warn(f"{error.filename or 'A file'} cannot be used: {error.strerror}.")
        return REFUSED
    except KeyboardInterrupt:
        return INTERRUPTED
    return code
