"""What is written of money."""
