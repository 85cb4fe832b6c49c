"""The crew board: who is where on which day, what can't be as it stands, who is free. Pure."""
