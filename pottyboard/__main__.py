"""Run the command line: the installed command, and ``python -m pottyboard``."""

import gc
import os
import sys
from contextlib import suppress

INTERRUPTED = 130


def run() -> int:
    """Run one command and return its exit code.

    A command is over before looking for garbage would pay, and so is the last look that an
    interpreter takes at its end: a fifth of ``now``. The board looks for it as ever.
    """
    gc.disable()
    try:
        _open_what_is_closed()
        from pottyboard.cli.main import main

        return main()
    except KeyboardInterrupt:  # while the program is still being loaded
        return INTERRUPTED
    finally:
        gc.freeze()


def _open_what_is_closed() -> None:
    """Give input, output and messages a place, or a file of the log would take theirs."""
    for descriptor in (0, 1, 2):
        try:
            os.fstat(descriptor)
        except OSError:
            with suppress(OSError):
                os.open(os.devnull, os.O_RDWR)  # takes the lowest free number: this one


if __name__ == "__main__":
    sys.exit(run())
