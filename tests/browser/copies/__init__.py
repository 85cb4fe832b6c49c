"""Copies, the archive, notes and photographs in the owner's hands."""
