"""Agreements about living in the house while its floors are open."""
