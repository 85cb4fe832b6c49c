"""What one scope does differently from another: by name, by way of counting, and really."""
