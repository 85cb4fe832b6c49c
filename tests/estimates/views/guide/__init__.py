"""Tests of the help, a page a step."""
