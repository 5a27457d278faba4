"""What becomes of a key: the entries, how they are saved, the alarms and the clock."""
