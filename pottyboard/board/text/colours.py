"""The board's own colours: one theme for the evening, one for daylight, and the terminal's own.

Each colour is mixed by lightness, strength and hue in OKLCH, so that text stands off every ground
that it is seen on by 4.5 to 1 and marks and large letters by 3 to 1 (WCAG 2.2, success criteria
1.4.3 and 1.4.11), and so that *due* and *late* differ in lightness too.
"""

from __future__ import annotations

from typing import Final

from textual.theme import Theme


def _bars(ground: str, bar: str, chosen: str, ink: str) -> dict[str, str]:
    """Return the variables of scroll bars, and of chosen text in a line for typing."""
    states = ("", "-hover", "-active")
    return {
        **{f"scrollbar{state}": bar for state in states},
        **{f"scrollbar-background{state}": ground for state in states},
        "scrollbar-corner-color": ground,
        "input-selection-background": chosen,
        "input-selection-foreground": ink,
        "input-cursor-background": chosen,
        "input-cursor-foreground": ink,
        "link-color-hover": ink,
    }


EVENING: Final = Theme(
    name="evening",
    primary="#589aba",
    secondary="#74899a",
    warning="#e9ac41",
    error="#ad2029",
    success="#7bb272",
    accent="#d99c6e",
    foreground="#e5e2d9",
    background="#14171c",
    surface="#1b1f25",
    panel="#252931",
    dark=True,
    variables={
        "text-primary": "#92c2db",
        "text-success": "#a6d29f",
        "text-warning": "#f5ca7f",
        "text-error": "#ee8885",
        "text-accent": "#eec09e",
        "text-muted": "#9a9fa6",
        **_bars("#1b1f25", "#74899a", "#e5e2d9", "#14171c"),
    },
)

DAYLIGHT: Final = Theme(
    name="daylight",
    primary="#2b658e",
    secondary="#5d6b79",
    warning="#f3b838",
    error="#a41c1c",
    success="#2d693d",
    accent="#8b592a",
    foreground="#1b1f25",
    background="#f6f3ed",
    surface="#ebe8df",
    panel="#dcd8cb",
    dark=False,
    variables={
        "text-primary": "#1a5177",
        "text-success": "#1f542e",
        "text-warning": "#754d19",
        "text-error": "#8f1617",
        "text-accent": "#714321",
        "text-muted": "#5d5b55",
        **_bars("#ebe8df", "#5d6b79", "#1b1f25", "#f6f3ed"),
    },
)

_OWN: Final = "ansi_default"

TERMINAL: Final = Theme(
    name="terminal",
    ansi=True,
    primary=_OWN,
    secondary=_OWN,
    warning=_OWN,
    error=_OWN,
    success=_OWN,
    accent=_OWN,
    foreground=_OWN,
    background=_OWN,
    surface=_OWN,
    panel=_OWN,
    boost=_OWN,
    variables={
        "ansi-background": _OWN,
        "ansi-foreground": _OWN,
        "border": _OWN,
        "border-blurred": _OWN,
        "link-color": _OWN,
        "link-background-hover": _OWN,
        **_bars(_OWN, _OWN, "ansi_bright_white", "ansi_black"),
    },
)
"""The terminal's own two colours, and no other for text: whether its ground is light or dark is not
known, nor what its sixteen are. Only what is due, late or an emergency is a block of colour. It is
also what NO_COLOR takes, since it prints no grey."""

THEMES: Final = {theme.name: theme for theme in (EVENING, DAYLIGHT, TERMINAL)}
"""The themes, by what the household calls them."""


def unknown_words(name: str) -> str:
    """Return what to say of colours that nobody knows; empty for none, or for known ones."""
    if not name or name in THEMES:
        return ""
    *others, last = THEMES
    return f"Unknown colours “{name}”: {', '.join(others)} or {last}."
