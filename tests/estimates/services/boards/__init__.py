"""Another product as a choice of a quote."""
