"""A crew's log of a day: written once, questions about hours, overrides of holds."""
