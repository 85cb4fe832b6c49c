"""Pages of doorways and stairs."""
