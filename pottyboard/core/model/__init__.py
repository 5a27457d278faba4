"""The floor: entries, times, settings, the routine and the numbers of the trade."""
