"""For programs of your own: everything that the board shows, from one pure function."""

from pottyboard.core.view.situation import Situation, as_json, situation

__all__ = ["Situation", "as_json", "situation"]
