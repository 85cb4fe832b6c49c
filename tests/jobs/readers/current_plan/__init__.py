"""Tests of the one reader of what a floor is laid by."""
