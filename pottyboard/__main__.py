"""Run the command line with ``python -m pottyboard``."""

import sys

from pottyboard.cli import main

if __name__ == "__main__":
    sys.exit(main())
