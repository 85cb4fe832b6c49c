"""A quote on its way: its link, what is mailed and texted, and what the homeowner answers."""
