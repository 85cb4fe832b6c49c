"""The forms of invoices, payments and completion slips."""
