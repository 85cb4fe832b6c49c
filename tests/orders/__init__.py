"""Change orders that tests start from."""
