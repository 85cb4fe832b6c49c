"""Rooms, floors and whole jobs copied: what was drawn is, what was read on a site stays there."""
