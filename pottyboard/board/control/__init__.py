"""What keys do and what becomes of it: the actions, the entries, the alarms and the clock."""
