"""A crew's own day, for the phone: where, how to get in, rows, first cuts, what must be true."""
