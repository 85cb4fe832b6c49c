"""Pages of the price book and of a job's price."""
