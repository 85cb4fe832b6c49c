"""Backups: made, checked, copied, restored."""
