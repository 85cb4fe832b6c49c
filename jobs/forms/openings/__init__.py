"""Forms of doorways and stairs."""
