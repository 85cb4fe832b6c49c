"""Doorways, sides and stairs as their rows stand."""
