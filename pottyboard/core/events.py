"""For programs of your own: an entry of the log."""

from pottyboard.core.model.events import KINDS, Event, EventError

__all__ = ["KINDS", "Event", "EventError"]
