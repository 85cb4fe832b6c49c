"""Rows of what the office decided on the crew board, and of crews penciled in before that."""
