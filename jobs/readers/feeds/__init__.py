"""What a calendar link publishes, read from the days of its crew or person."""
