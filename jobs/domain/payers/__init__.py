"""Material that the client or the payer supplies: what is needed, what came, what is wrong."""
