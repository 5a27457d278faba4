"""The full-screen board. Importing this package loads no terminal library; :func:`run` does."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pottyboard.store import Household

__all__ = ["run"]


def run(
    household: Household,
    dog: str | None,
    now: Callable[[], datetime],
    environ: Mapping[str, str] = os.environ,
    *,
    set_up: bool = False,
) -> int:
    """Open the board of ``dog`` (the only one if None) and return the exit code.

    Where there are several dogs and none is named, the board of the one that was logged last opens
    under a page to choose from. A household without a dog gets the set-up first; with ``set_up``
    any other gets it too. ``now`` returns the aware instant now. ``environ`` may hold
    ``NO_COLOR``, ``POTTYBOARD_COLOURS`` (``evening``, ``daylight`` or ``terminal``) and
    ``POTTYBOARD_KEYS`` (such as ``accident=f2 pee=f1``). Raises what the store raises if the dog's
    log cannot be opened.
    """
    # Nothing made while starting is garbage, and looking for some takes a tenth of the start.
    gc.disable()
    from pottyboard.board.app import BoardApp

    choose = dog is None and len(household.dogs()) > 1
    shown = household.latest() if choose else dog
    record = household.record(shown) if shown is not None or household.dogs() else None
    return BoardApp(household, record, now, environ, set_up=set_up, choose=choose).run() or 0
