"""The crew board as it is read from rows."""
