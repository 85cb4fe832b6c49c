"""What is typed about money."""
