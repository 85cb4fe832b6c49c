"""Closing a job and what follows from it."""
