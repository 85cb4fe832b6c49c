"""Days of a job that are moved: what would follow, the change saved with its reason, undone."""
