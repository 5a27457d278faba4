"""Run the command line: the installed command, and ``python -m pottyboard``."""

import gc
import sys


def run() -> int:
    """Run one command and return its exit code.

    A command is over before looking for garbage would pay, and so is the last look that an
    interpreter takes at its end: a fifth of ``now``. The board looks for it as ever.
    """
    gc.disable()
    from pottyboard.cli.main import main

    try:
        return main()
    finally:
        gc.freeze()


if __name__ == "__main__":
    sys.exit(run())
