"""Invoices issued and voided, payments noted and taken back, completion slips signed."""
