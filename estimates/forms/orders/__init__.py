"""Forms of change orders."""
