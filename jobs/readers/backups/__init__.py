"""Which backups lie in the folder, and how the last one stands."""
