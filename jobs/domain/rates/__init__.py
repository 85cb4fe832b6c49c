"""Rates that learn: what days of work say about the hours that things take.

A rate is fitted by its task from days of work with what was done in each, held to the rate in force
by as much as is not known yet, with the range that it lies in four times of five. Pure, with numpy.
"""
