"""Help, a page a step."""
