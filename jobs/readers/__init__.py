"""Rows of the database become values of the domain."""
