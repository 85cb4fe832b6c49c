"""Pages of extra work."""
