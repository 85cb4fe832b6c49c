"""Forms by which a quote is sent and a homeowner is answered."""
