"""What people write, read in one way everywhere: times, dates, days, zones, weights and money."""
