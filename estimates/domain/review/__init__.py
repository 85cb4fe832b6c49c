"""The margin review: what was quoted, agreed and real, and why they differ."""
