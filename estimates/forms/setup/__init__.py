"""The forms of the company's set-up."""
