"""Pages of what a job came to, and what closed jobs teach."""
