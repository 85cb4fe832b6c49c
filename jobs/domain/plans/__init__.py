"""A plan as tables and sentences, and its check by hand."""
