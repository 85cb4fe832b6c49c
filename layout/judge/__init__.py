"""Whether a plan is right, by arithmetic of its own."""
