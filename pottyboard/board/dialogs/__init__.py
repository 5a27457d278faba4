"""Questions on top of a screen: what they ask, and what comes of the answers."""
