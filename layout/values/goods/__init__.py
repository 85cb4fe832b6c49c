"""Goods as the form tells them: a product, and piles of planks once counted."""
