"""The ballpark: a range for a floor that nobody has measured, said at the phone. No quote.

area      what was said of its size becomes square feet and the length of its walls
counts    what such a floor takes, from least to most
prices    the range by the rate card, or by the company's hours where there is no card
"""
