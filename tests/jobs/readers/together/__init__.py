"""Tests of rows that are fetched at once."""
