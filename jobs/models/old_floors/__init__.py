"""What was in a room before the work."""
