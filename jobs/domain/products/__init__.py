"""A plank product: its size as typed, its carton, what stands until the maker's sheet is read."""
