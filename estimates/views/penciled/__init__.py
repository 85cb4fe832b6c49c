"""What pages of money say of a crew that is penciled in."""
