"""The crew's own day."""
