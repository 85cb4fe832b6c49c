"""Change orders: what a job is priced with after its quote was accepted, and what that comes to."""
