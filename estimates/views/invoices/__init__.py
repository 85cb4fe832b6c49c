"""Invoices, payments and the completion slip."""
