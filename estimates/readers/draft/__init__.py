"""The next quote of a job, read from its rows: what is drafted, offered and sold."""
