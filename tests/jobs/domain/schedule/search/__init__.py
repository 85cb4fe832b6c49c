"""Tests of the search for better days."""
