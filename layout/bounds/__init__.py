"""The fewest planks any plan could use."""
