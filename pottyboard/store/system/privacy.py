"""Who may read what: a household's log is for its owner alone.

POSIX keeps three sets of rights in the mode of a file or folder. Windows has lists of rights that
a folder inherits from the one above (a user's own folders let nobody else in), and ``os.chmod``
there can set no more than the mark for reading only: nothing is looked at and nothing changed.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import Final

FOLDER_MODE: Final = 0o700
FILE_MODE: Final = 0o600
_OTHERS: Final = 0o077


def closed_to_others(folder: Path) -> bool:
    """Take away what others may do in a folder of ours; return whether there was anything.

    A folder of somebody else, and one in which everybody works (``/tmp``), stay as they are.
    """
    if os.name == "nt":
        return False
    try:
        found = os.stat(folder)
        mode = stat.S_IMODE(found.st_mode)
        if not mode & _OTHERS or found.st_uid != os.geteuid() or mode & stat.S_ISVTX:
            return False
        os.chmod(folder, mode & ~_OTHERS)
    except OSError:
        return False
    return True


def is_ours(found: os.stat_result) -> bool:
    """Whether what ``stat`` found belongs to us, where the system tells."""
    return os.name == "nt" or found.st_uid == os.geteuid()
