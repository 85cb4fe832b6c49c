"""More rows of a kind, a subject a module, for pages that list them."""
