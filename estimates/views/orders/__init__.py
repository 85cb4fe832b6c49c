"""Pages of change orders."""
