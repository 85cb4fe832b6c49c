"""The rows of a job read as its review: as it stands, as it was frozen, beside other jobs."""
