"""The full-screen board. Importing this package loads no terminal library; :func:`run` does."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pottyboard.store import DogLog, Household

__all__ = ["run"]


def run(
    household: Household,
    dog: str | None,
    now: Callable[[], datetime],
    environ: Mapping[str, str] = os.environ,
    *,
    set_up: bool = False,
    demo: str = "",
) -> int:
    """Open the board of ``dog`` (the only one if None) and return the exit code.

    Where there are several dogs and none is named, the board of the one that was logged last opens
    under a page to choose from. A household without a dog gets the set-up first; with ``set_up``
    any other gets it too. ``demo`` is what the board of an invented log says of itself. ``now``
    returns the aware instant now. ``environ`` may hold ``NO_COLOR``, ``POTTYBOARD_COLOURS``
    (``evening``, ``daylight`` or ``terminal``) and ``POTTYBOARD_KEYS`` (such as ``accident=f2
    pee=f1``). Raises what the store raises if the dog's log cannot be opened.
    """
    # Nothing made while starting is garbage, and looking for some takes a tenth of the start.
    gc.disable()
    from pottyboard.board.app import BoardApp
    from pottyboard.core.model.letters import shows_drawn

    dog_log, choose = _first(household, dog)
    if dog_log is not None and not set_up:
        _ = dog_log.settings, dog_log.events  # what cannot be read is said before anything is drawn
    is_plain = not shows_drawn(getattr(sys.__stderr__, "encoding", None), environ)
    app = BoardApp(
        household, dog_log, now, environ,
        set_up=set_up, choose=choose, plain=is_plain, demo=demo,
    )  # fmt: skip
    code = app.run() or 0
    if unsaved := app.finish():
        from pottyboard.core.model.localtime import count_words

        changes = count_words(unsaved, "change")
        print(f"pottyboard: Not saved: {changes}, the log is out of reach.", file=sys.stderr)
        return 1
    return code


def _first(household: Household, dog: str | None) -> tuple[DogLog | None, bool]:
    """Return the record to show first, None without a dog, and whether there are others to choose.

    A dog whose settings cannot be read does not keep the others from view.
    """
    dogs = household.dogs()
    if dog is not None or len(dogs) < 2:
        return (household.dog_log(dog) if dog is not None or dogs else None), False
    from pottyboard.store.shared import dog_logs_of

    readable = {
        name: dog_log for name, dog_log in dog_logs_of(household) if not household.is_archived(name)
    }
    latest = household.latest()
    shown = latest if latest in readable else next(iter(readable), latest)
    return household.in_folder(shown or dogs[0]), True
