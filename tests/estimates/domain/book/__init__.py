"""Tests of the price book as people keep it."""
