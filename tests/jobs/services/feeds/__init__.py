"""Calendar links and what they publish."""
