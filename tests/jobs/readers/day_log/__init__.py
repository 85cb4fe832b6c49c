"""What is read from logs."""
