"""Rates that learn: the fit against outside values and known crews."""
