"""Words a new company starts from, for the owner to read and overwrite. No source unless named."""

from __future__ import annotations

STARTING_CHANGES = (
    "Work that is not in this quote is written down with its price, and starts once you have "
    "agreed to it."
)
STARTING_PAMPHLET = "Renovate Right: Important Lead Hazard Information for Families"
"""The pamphlet that 40 CFR 745.84 has handed over, by its title; from memory, check the edition."""
