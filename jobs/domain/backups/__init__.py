"""Backups: what an archive says of itself, and which archives are kept."""
