"""How good days are, and the search for better ones from the best that fixed orders give."""
