"""What leaves the lists: jobs archived, things removed, and both brought back."""
