"""Judging cuts and planks: each figure, each leftover, an order of cuts that makes every piece."""
