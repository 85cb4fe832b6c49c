"""Pages on which a quote is sent, followed and answered."""
