"""Tests of how a price is read on its page."""
