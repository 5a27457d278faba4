"""The shape of a warning; nothing here computes."""

from __future__ import annotations

from datetime import datetime
from typing import Final, Literal

from msgspec import Struct

Level = Literal["now", "today", "soon", "ask", "watch"]
"""*now*: call a vet now; *today*: the same day; *soon*: call a vet soon; *ask* a vet or a qualified
behaviourist at the next chance; *watch*: keep an eye on it."""

LEVELS: Final[tuple[Level, ...]] = ("now", "today", "soon", "ask", "watch")
"""The levels, the gravest first."""

GRAVE: Final = frozenset[Level]({"now", "today", "soon"})
"""The levels at which a vet is to be called."""

LEVEL_WORDS: Final[dict[Level, str]] = {
    "now": "call a vet now",
    "today": "call a vet today",
    "soon": "call a vet soon",
    "ask": "ask your vet or a behaviourist",
    "watch": "keep an eye on it",
}
"""How each level reads."""


class Warning(Struct, frozen=True):
    """One warning that the log raises.

    ``code`` names its row of the table; ``words`` say what to do in one sentence; ``because`` what
    in the log raised it; ``source`` where the threshold comes from; ``since`` when it was raised.
    ``grade`` is how bad it is (more is worse): a warning that was noted comes back when the level
    or the grade has risen. ``noted`` is the household's note, empty where it noted the warning
    without a word, None while nobody has noted it. ``ends`` says what ends it.
    """

    code: str
    level: Level
    words: str
    because: str
    source: str
    since: datetime
    grade: float = 0.0
    noted: str | None = None
    ends: str = ""
