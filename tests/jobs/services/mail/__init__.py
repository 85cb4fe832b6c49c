"""Tests of the outbox against a mail server of its own."""
