"""A job's price in the hands of the office, in a browser."""
