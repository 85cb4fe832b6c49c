"""Rows of what the office decided on the crew board."""
