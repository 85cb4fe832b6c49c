"""Forms of extra work."""
