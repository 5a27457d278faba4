"""Accidents: what to do, why they happened, the places to clean, and pads."""
