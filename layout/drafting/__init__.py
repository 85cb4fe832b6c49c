"""A finished search written out as a plan."""
