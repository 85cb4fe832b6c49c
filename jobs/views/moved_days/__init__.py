"""Changing days: lost, moved, held to a date; the effect is shown first."""
