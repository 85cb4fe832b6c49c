"""Tests of the bench and of days worked on it."""
