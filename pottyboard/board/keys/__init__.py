"""What keys do: the one list of actions, a household's own keys, and the help made from both."""
