"""Tests of what the first page reads."""
