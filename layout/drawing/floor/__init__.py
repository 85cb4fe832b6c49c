"""The drawing of a floor for those who lay it: its sheets, and what places are named by on it."""
