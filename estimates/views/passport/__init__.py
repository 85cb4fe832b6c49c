"""Pages of the floor passport: the office's, and the homeowner's behind the link."""
