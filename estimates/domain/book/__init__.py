"""The price book as people keep it: groups, packs, rows, the sheet they come in by, what is due.

pack      what a thing is sold in: a carton, a roll, a stick, a box; empty where it is sold loose
covers    how much of its measure a pack covers or holds: 23.3 ft2, 8 ft, 100 each
measure   what a pack is counted in: ft2, ft or each
per       whether a price is for the pack or for one of its measure
book row  one price of one thing from a day on, with all that is known of it
sheet     the book, or a part of it, as text between commas
need      a thing whose price is missing, or was not seen for too long
"""
