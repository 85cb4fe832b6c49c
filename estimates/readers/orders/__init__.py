"""Change orders as they are stored, what a job is agreed at, and drafts with their prices."""
