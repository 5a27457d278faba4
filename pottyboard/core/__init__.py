"""The trade: pure functions over frozen values. No I/O, no clock, no terminal, no database."""
