"""Rows of extra work that turns up while a job is being done."""
