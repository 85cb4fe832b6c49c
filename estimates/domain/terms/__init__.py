"""What one job's price has of its own.

`job_terms` is its lines, discount, rounding and tax as values, `adjustments` what they do to a
price, `booked` the days that it is reckoned by, `basis` what the price was made with, kept.
"""
