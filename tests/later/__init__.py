"""A Rowbook that is to come: one more migration of the jobs app."""
