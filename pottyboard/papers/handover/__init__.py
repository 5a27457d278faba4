"""What the people who stand in get: the visits, the sheet, the calendar."""
