"""Contrast as WCAG 2.2 defines it (W3C Recommendation of 2023, “relative luminance” and “contrast
ratio” in its glossary)."""

from __future__ import annotations

Rgb = tuple[int, int, int]


def luminance(colour: Rgb) -> float:
    """Return the relative luminance of an sRGB colour, 0 for black to 1 for white."""
    red, green, blue = map(_linear, colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Rgb, other: Rgb) -> float:
    """Return the contrast ratio of two colours, 1 to 21, whichever is the lighter."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def rgb(code: str) -> Rgb:
    """Return the colour of a code such as ``#777777``."""
    return int(code[1:3], 16), int(code[3:5], 16), int(code[5:7], 16)


def _linear(channel: int) -> float:
    share = channel / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
