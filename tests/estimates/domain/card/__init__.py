"""Tests of the rate card."""
