"""Pages of what is kept of clients."""
