"""A quote in the homeowner's browser."""
