"""A payer's unit prices, and trips that are paid."""
