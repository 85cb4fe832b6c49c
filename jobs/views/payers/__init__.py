"""Who pays for a job, and what they supply."""
