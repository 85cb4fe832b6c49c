"""What a floor passport tells, and what differs."""
