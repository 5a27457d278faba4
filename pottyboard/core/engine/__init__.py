"""The rules of the day: reasons for a break, the interval, causes, day after day."""
