"""What a floor passport tells: the floors as they lie, what is left of them, readings, warranty."""
