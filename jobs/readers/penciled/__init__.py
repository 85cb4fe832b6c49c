"""The crew that a job is priced for, and a real one that the office penciled in before that."""
