"""Words for who is signed in."""
