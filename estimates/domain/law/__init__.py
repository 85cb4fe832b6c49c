"""What the law asks of a quote to a homeowner: pure, each rule with its source and date.

right to cancel   a sale at home may be called off until midnight of the third business day
business day      any day but Sunday and a federal holiday; Saturday counts
deposit           what is paid before the work: our own rule, and no more than the state allows
state cap         the most that a state lets a deposit be, of a price and of special orders
special order     goods made or bought for this house alone, which nobody takes back
lead receipt      what is signed before old paint is disturbed: the pamphlet was handed over
payment stage     a part of the price with the day it is due; the parts sum to the price

Laws change and places differ: nothing here is advice, and the company decides what it prints.
"""
