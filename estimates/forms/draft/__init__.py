"""What is typed about the next quote of a job."""
