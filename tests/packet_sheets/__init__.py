"""Tests of the printed packet as sheets: how many, how large its letters, what it names."""
