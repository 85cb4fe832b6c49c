"""Tests of what stands on a quote and of where it stands."""
