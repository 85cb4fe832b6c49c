"""What was in the rooms before the work, read from their rows."""
