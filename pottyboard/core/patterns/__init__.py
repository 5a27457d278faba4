"""What the log shows beyond chance: when, where and on whose watch accidents come."""
