"""Rooms, floors and whole jobs copied."""
