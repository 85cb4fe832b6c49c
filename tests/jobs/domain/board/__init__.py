"""The rules of the crew board."""
