"""Crews with known rates: what is learned of their logs is held against the truth."""
