"""What happened to quotes, read for the office's pages and the homeowner's."""
