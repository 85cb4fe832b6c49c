"""The chart of a job's days: what stands where, and where on the drawing it goes."""
