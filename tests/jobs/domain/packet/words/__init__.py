"""Tests of the words of a packet."""
