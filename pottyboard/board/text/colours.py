"""The board's own colours, one theme for the evening and one for daylight."""

from __future__ import annotations

from typing import Final

from textual.theme import Theme

EVENING: Final = Theme(
    name="evening",
    primary="#5b8fb0",
    secondary="#7d8fa0",
    warning="#e3a72f",
    error="#b3261e",
    success="#7fb069",
    accent="#d9a066",
    foreground="#e4e2dc",
    background="#14171a",
    surface="#1c2024",
    panel="#272c31",
    dark=True,
)

DAYLIGHT: Final = Theme(
    name="daylight",
    primary="#2f6690",
    secondary="#5c6b78",
    warning="#f0b429",
    error="#a61c1c",
    success="#2f6b3a",
    accent="#8a5a1f",
    foreground="#1d2125",
    background="#f6f4ee",
    surface="#ebe8df",
    panel="#dcd8cc",
    dark=False,
)

TERMINAL: Final = "ansi-dark"
"""The terminal's own sixteen colours; also what NO_COLOR takes, since it prints no grey."""

NAMES: Final = {"evening": "evening", "daylight": "daylight", "terminal": TERMINAL}
"""What the household calls the colours, and the theme's name."""


def unknown_words(name: str) -> str:
    """Return what to say of colours that nobody knows; empty for none, or for known ones."""
    if not name or name in NAMES or name in NAMES.values():
        return ""
    *others, last = NAMES
    return f"Unknown colours “{name}”: {', '.join(others)} or {last}."
