"""Tests of the small pictures of what is measured and bought."""
