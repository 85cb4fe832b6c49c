"""Tests of the pages on which a quote is sent, followed and answered."""
