"""What the log has taught: holds, the bowel, and the chance of an accident."""
