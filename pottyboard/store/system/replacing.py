"""Putting one file in the place of another, in one step.

POSIX ``rename`` replaces a file that others have open. On Windows that is a sharing violation
(``ERROR_ACCESS_DENIED``, ``ERROR_SHARING_VIOLATION``: a ``PermissionError`` here) for as long as a
virus scanner, an index or a sync program looks at the file: mostly some tens of milliseconds.
"""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import Final

_TRIES: Final = 20
_STEP: Final = 0.01
"""Seconds by which each wait is longer than the one before: two seconds in all."""


def rename(source: Path, target: Path) -> None:
    """Replace ``target`` by ``source``, with patience where somebody holds it open."""
    for attempt in range(_TRIES):
        try:
            os.replace(source, target)
            return
        except PermissionError:
            if os.name != "nt" or attempt == _TRIES - 1:
                raise
            time.sleep(_STEP * (attempt + 1))
