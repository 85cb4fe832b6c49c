"""The floor passport at a browser."""
