"""Pages of who pays for a job, and of what they supply."""
