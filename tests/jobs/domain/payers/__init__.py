"""Material that somebody else supplies."""
