"""The command line: what can be typed, what each command does, what it prints."""
