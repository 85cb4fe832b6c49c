"""A real crew and first day before a quote is accepted: penciled in, priced with, rubbed out."""
