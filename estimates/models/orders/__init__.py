"""Rows of change orders: drafts, what was sent of them, and links."""
