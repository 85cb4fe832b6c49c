"""Pages of what is kept of clients, and for how long."""
