"""The log read: what it says at an instant, waits and holds, places and measures."""
