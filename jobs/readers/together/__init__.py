"""Rows of many tables, fetched in one round trip: what pages with lists of jobs stand on."""
