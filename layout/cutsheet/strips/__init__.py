"""The cuts of a plan as strips tell them: row by row, each figure where it falls."""
