"""Strips as drawings."""
