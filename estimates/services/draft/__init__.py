"""Writes of a quote before and when it is issued."""
