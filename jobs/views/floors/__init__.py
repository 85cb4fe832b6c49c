"""Pages of floors."""
