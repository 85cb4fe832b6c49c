"""Forms of rooms."""
