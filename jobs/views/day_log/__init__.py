"""Pages of a crew's log of a day."""
