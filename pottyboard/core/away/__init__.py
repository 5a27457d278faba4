"""The days away from home: who is away when, the visits, what they cost, and the dog alone."""
