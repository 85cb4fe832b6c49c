"""A floor from which a plank is picked."""
