"""Notes and photographs of rooms."""
