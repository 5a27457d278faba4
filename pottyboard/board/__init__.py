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

    A household without a dog gets the set-up first; with ``set_up`` any other gets it too.
    ``now`` returns the aware instant now. ``environ`` may hold ``NO_COLOR``,
    ``POTTYBOARD_COLOURS`` (``evening``, ``daylight`` or ``terminal``) and ``POTTYBOARD_KEYS``
    (such as ``accident=f2 pee=f1``). Raises what the store raises if the dog's log cannot be
    opened.
    """
    # Nothing made while starting is garbage, and looking for some takes a tenth of the start.
    gc.disable()
    from pottyboard.board.app import BoardApp

    record = household.record(dog) if dog is not None or household.dogs() else None
    return BoardApp(household, record, now, environ, set_up=set_up).run() or 0
