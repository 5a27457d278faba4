"""The roof: the one situation that every view shows, and its parts."""
