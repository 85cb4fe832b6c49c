"""Rows of a floor: where they run, how wide they are, which strips are left."""
