"""Prices in the hands of the office."""
