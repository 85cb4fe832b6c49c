"""Calendar links: the page that lists them, and the calendar itself."""
