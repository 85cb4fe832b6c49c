"""The company's set-up."""
