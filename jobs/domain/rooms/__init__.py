"""Rooms as they are measured."""
