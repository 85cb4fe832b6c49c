"""The front door of planning: trials, polish, the start wall."""
