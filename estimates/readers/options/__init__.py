"""What a job could be done with instead, read from its rows.

`ways` names what can be compared and what can't, `products` the products that a floor was planned
in for comparison, `options` prices them, `work_split` reads what the homeowner takes on.
"""
