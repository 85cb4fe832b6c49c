"""Rooms that somebody lives by, and what was agreed about them."""
