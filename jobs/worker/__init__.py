"""Background work: errands, who claims them, the loop."""
