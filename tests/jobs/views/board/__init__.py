"""The page of the crew board."""
