"""The rate card: so much a square foot to lay, so much for each thing beside it.

`rows` are the things that a card has a rate for, `adders` what they charge on a job, `needs` what a
job takes that the card has no rate for, `unit_costs` what one of each costs us by the hours.
"""
