"""What leaves the program: the situation and the log as plain text."""
