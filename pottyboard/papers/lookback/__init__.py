"""What looks back over many days: the health diary and the review."""
