"""The crew board."""
