"""What a company says on every quote, read from its rows."""
