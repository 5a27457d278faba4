"""Pottyboard: when the next break is due, why, and how sure we are."""
