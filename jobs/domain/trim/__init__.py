"""Runs of trim and the stock they are cut from."""
