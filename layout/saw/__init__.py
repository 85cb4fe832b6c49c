"""The saw: in which order the pieces of a plank are cut, so that no cut takes what is needed."""
