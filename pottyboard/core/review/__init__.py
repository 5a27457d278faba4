"""Looking back: the evening, the fortnight, patterns, and what comes after day 14."""
