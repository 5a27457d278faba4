"""The shape of a warning; nothing here computes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

Level = Literal["now", "soon", "ask", "watch"]
"""*now*: call a vet now; *soon*: call a vet soon; *ask* a vet or a qualified behaviourist at the
next chance; *watch*: keep an eye on it."""


@dataclass(frozen=True, slots=True)
class Warning:
    """One warning that the log raises.

    ``code`` names its row of the table; ``words`` say what to do in one sentence; ``because`` what
    in the log raised it; ``source`` where the threshold comes from; ``since`` when it was raised.
    ``grade`` is how bad it is (more is worse): a warning that was noted comes back when the grade
    has risen. ``noted`` is the household's note, None while nobody has noted it.
    """

    code: str
    level: Level
    words: str
    because: str
    source: str
    since: datetime
    grade: float = 0.0
    noted: str | None = None
