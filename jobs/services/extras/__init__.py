"""Extra work, noted before it is done."""
