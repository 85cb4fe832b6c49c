"""Who is signed in: words for it."""
