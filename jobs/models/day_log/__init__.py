"""Rows of a crew's log beside its entries of hours: photographs, punch list, overrides."""
