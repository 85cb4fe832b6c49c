"""The scope laid onto days."""
