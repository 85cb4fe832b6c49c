"""Certificates of a bound, rechecked by arithmetic alone."""
