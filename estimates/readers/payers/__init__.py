"""Who pays for a job, what they supply and agreed to pay, as pricing knows it."""
