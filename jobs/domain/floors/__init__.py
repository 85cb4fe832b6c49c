"""Rooms joined to floors, and what a floor asks of its product."""
