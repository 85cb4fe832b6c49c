"""Errands that only tests ask for, and real workers to do them, started as their own processes."""
