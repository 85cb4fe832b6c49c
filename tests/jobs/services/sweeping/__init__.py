"""What the daily sweep clears away."""
