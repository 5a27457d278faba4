"""Calendars that are written again over themselves: what every one of them has (RFC 5545)."""
