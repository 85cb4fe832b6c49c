"""Closing jobs, what comes after it, and taking the rates that they teach."""
