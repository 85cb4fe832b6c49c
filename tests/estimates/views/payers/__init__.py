"""Pages of a payer's prices and of a paid trip."""
