"""Tests of packets as they are put together, and of whether they still hold."""
