"""The review of a job."""
