"""What the jobs app does: keyword-only, atomic, audited."""
