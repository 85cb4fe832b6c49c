"""What is handed over and erased of a client."""
