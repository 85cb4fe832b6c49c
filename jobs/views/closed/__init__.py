"""Pages of what comes after a job was closed. No prices here."""
