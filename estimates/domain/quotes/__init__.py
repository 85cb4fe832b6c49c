"""The quote that a homeowner reads: what it holds, how it is worded, and what the law asks of it.

`content` is the quote itself. It tells the homeowner what is done, when, and what it costs at most;
no cost, no margin, no hours, and no word of the trade.
"""
