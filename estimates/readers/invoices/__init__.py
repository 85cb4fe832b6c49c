"""What was agreed, billed and paid of a job, read from its rows."""
