"""Doorways, transitions and stairs."""
