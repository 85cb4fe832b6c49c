"""Pages of what keeps the book safe: backups, who is signed in, who did what."""
