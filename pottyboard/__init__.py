"""Pottyboard: when the next break is due, why, and how sure we are."""

__version__ = "0.1.0"
