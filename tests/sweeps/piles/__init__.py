"""Floors of three widths planned from piles as they were counted, held against counts made here."""
