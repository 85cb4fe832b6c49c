"""Copying rooms, floors and jobs."""
