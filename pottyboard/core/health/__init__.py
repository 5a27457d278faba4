"""Health: the warnings that send a household to a vet or a behaviourist, and their data."""
