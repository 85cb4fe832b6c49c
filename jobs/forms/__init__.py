"""Forms that keep what was typed and say what would be accepted."""
