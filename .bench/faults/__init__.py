"""What could lose, spoil or misreport an entry, tried in earnest and counted by class."""
