"""What the worker clears away every day: what ran out, and what the owner keeps no longer."""
