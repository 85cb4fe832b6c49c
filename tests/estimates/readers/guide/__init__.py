"""Tests of the pictures of the help."""
