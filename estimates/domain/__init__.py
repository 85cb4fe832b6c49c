"""The arithmetic of money: pure, handed everything it needs.

price book      what a company pays or charges for a unit, old prices too, and its burdened rate
burdened rate   what a man-hour costs: wage with taxes, insurance and benefits
material        a price that we pay; an adder is one that we charge, by the unit
rate card       the adders of a company, each with every rate it had; or what makes a job's price
half day        the least that a price by the rate card comes to
allowance       work nobody can count yet, sold by the unit up to so many units
ballpark        a range said at the phone for a floor that nobody has measured; no quote
terms           how cost becomes price: method, overhead, margin, least charge, tax
added line      what no plan counts, at a price of its own or at the margin
discount        what is taken off a price, with its reason; rounding comes after it
labor only      a job whose material the client buys all
direct cost     material with the tax on it, labor, allowances and added lines
overhead        a part of direct cost for what no job causes alone; cost is both together
margin          profit as a part of the price; a markup is profit as a part of the cost
subtotal        what is charged, before sales tax; the total is after it
contribution    what the subtotal leaves above direct cost, for overhead and profit
day on site     a day as a crew is booked for it, whole or half; a price is told by it
basis           terms, prices and rates that a price was made with, kept with it
crew-day        the man-hours of a crew's full day; reviews are told by it
priced scope    a scope with its money, line by line; a fault names what has no price
rate check      an adder held against the cost of what it pays for
estimate        a priced scope, frozen
quote           what the homeowner is told of an estimate: no cost, no margin, no hours
deposit         what is paid before the work, within what the state allows (`law/`)
change order    an agreed change of an accepted scope, with its price
option          the same floor in other materials; a saving holds two of them together
purchase        something bought for a job, as paid
margin review   a job as quoted, as agreed and as logged and bought, side by side
bridge          what leads from the profit quoted to the profit made, part by part
"""
