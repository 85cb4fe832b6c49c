"""Which plank each piece is cut from, and how it goes in."""
