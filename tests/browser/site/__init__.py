"""Browser tests of the visit: what was found in the house and in each room."""
