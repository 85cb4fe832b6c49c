"""Tests of what the moisture gates hang on."""
