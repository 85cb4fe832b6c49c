"""People and their passwords, by hand."""
