"""A crew's log of a day, written."""
