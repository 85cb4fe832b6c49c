"""Rows of prices, quotes and reviews become values."""
