"""Change orders: what differs, drafts of it, what is sent, and the word on it."""
