"""Products in a browser."""
