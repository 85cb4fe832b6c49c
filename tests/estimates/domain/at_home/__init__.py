"""What a homeowner reads of the days."""
