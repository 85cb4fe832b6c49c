"""Forms of floors."""
