"""Keys in turn: each is handed on only once all that the one before it has begun is there.

A terminal hands over what was typed fast in one go. A key goes from the app to what has the focus
and comes back up; only then does an action open a dialog, fill it, and move the focus. The next key
would go where the focus still is. So a message is sent after each key, on the same way: what was
posted before it has been done when it is back. The key has been through once the message comes back
and finds the focus where it was sent to.
"""

from __future__ import annotations

from collections import deque
from typing import Final

from textual.events import Event
from textual.message import Message
from textual.widget import Widget

_LEAST_ROUNDS: Final = 2
"""The first is behind the key itself, the second behind what a widget has posted for it."""


class Followed(Message):
    """Comes back to the app from ``target``, behind all that was in line before it."""

    def __init__(self, target: Widget, rounds: int) -> None:
        """Go to ``target``, as so many rounds after the key."""
        super().__init__()
        self.target = target
        self.rounds = rounds

    def has_settled(self, focus: Widget) -> bool:
        """Whether the key has been through, the focus being where it is now."""
        return self.rounds >= _LEAST_ROUNDS and focus is self.target


class InTurn:
    """The keys and pastes that wait for the one under way."""

    def __init__(self) -> None:
        """Begin with none."""
        self._waiting: deque[Event] = deque()
        self._sent: Followed | None = None

    def admits(self, event: Event) -> bool:
        """Return whether an event may go now; if not, it has taken its place in line."""
        if self._sent is None:
            return True
        self._waiting.append(event)
        return False

    def next(self) -> Event | None:
        """Return the next in line, None if nothing waits: then whatever comes may go."""
        self._sent = None
        return self._waiting.popleft() if self._waiting else None

    def follow(self, focus: Widget, rounds: int = 1) -> None:
        """Send a message after the event under way, to what has the focus."""
        self._sent = Followed(focus, rounds)
        focus.post_message(self._sent)

    def is_awaited(self, back: Followed) -> bool:
        """Whether a message is the one that was sent last."""
        return back is self._sent

    @property
    def is_idle(self) -> bool:
        """Whether nothing is under way or waits."""
        return self._sent is None and not self._waiting

    @property
    def is_stranded(self) -> bool:
        """Whether what the message was sent to has gone meanwhile, and the message with it."""
        return self._sent is not None and not self._sent.target.is_attached
