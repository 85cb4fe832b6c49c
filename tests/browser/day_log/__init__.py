"""The log of a day under a thumb."""
