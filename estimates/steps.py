"""The steps of a job's path that are about money: Price, Quote, Review."""

from __future__ import annotations


def register() -> None:
    """Give the path its money steps."""
