"""The clock at the edge, and the one timer that asks it."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Final

from pottyboard.core.model.localtime import zone_named

_SECOND: Final = 1.0


def system_now() -> datetime:
    """Return the instant now, in UTC."""
    return datetime.now(UTC)


def zone_of(now: datetime) -> str:
    """Return the IANA name of the zone of an instant, or else of this computer; UTC if unknown."""
    name = getattr(now.tzinfo, "key", "UTC")
    if name != "UTC":
        return str(name)
    from pendulum.tz.local_timezone import get_local_timezone

    try:
        return zone_named(get_local_timezone().name or "UTC").key
    except (LookupError, OSError, RuntimeError, ValueError):
        return "UTC"


class Pulse:
    """Calls ``beat`` at the start of every second of the wall clock, from the running event loop.

    It is no timer of the screen: a beat at which nothing has happened costs one wake-up and what
    ``beat`` looks at, and no message goes through the screen.
    """

    def __init__(self, beat: Callable[[], None]) -> None:
        """Keep ``beat`` for later; :meth:`start` needs a running loop."""
        self._beat = beat
        self._handle: asyncio.TimerHandle | None = None

    @property
    def is_running(self) -> bool:
        """Whether beats follow."""
        return self._handle is not None

    def start(self) -> None:
        """Begin to beat, unless it beats already."""
        if self._handle is None:
            self._wait()

    def stop(self) -> None:
        """Beat no more."""
        if self._handle is not None:
            self._handle.cancel()
            self._handle = None

    def _wait(self) -> None:
        loop = asyncio.get_running_loop()
        to_next = _SECOND - time.time() % _SECOND
        self._handle = loop.call_later(to_next, self._next)

    def _next(self) -> None:
        self._wait()
        self._beat()
