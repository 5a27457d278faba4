"""How the board makes itself heard: when it rings, and by which means."""
