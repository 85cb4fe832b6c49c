"""Every page where there is little room."""
