"""Quotes and a house written by hand, for tests of what a homeowner reads."""
