"""What one scope does differently from another."""
