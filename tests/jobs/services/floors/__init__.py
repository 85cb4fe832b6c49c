"""Services of floors."""
