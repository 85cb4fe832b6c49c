"""The line work of a sketch."""
