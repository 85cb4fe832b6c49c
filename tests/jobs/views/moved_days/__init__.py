"""Pages on which days are changed."""
