"""Packets as they are put together, and whether the newest one still says how things stand."""
