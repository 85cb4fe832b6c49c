"""Forms of the crew board."""
