"""Calendars that are read without a sign-in, and what they have published."""
