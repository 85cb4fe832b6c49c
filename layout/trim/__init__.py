"""Trim cut from stock lengths."""
