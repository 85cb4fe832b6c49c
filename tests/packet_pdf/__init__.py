"""The packet read from its PDF alone, and sawn."""
