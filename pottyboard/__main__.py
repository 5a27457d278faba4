"""Run the command line: the installed command, and ``python -m pottyboard``."""

import gc
import sys


def run() -> int:
    """Run one command and return its exit code.

    A command is over before looking for garbage would pay; the board looks for it as ever.
    """
    gc.disable()
    from pottyboard.cli.main import main

    return main()


if __name__ == "__main__":
    sys.exit(run())
