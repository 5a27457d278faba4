"""What a command shows beside its answer: files that it writes, and how far it is."""
