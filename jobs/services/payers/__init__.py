"""Who pays for a job, and what they supply: written by the office, counted by the crew."""
