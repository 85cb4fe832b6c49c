"""Money in the browser: what is offered before a price, and what stands beside it."""
