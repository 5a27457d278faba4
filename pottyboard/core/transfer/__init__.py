"""The log in and out: tables that people keep, and our own that carries everything."""
