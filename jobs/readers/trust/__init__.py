"""What keeps the book safe, as it stands: who is signed in, who did what."""
