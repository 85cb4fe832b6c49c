"""What the office decides on the crew board."""
