"""Rooms whose rules fight: which give way, by how little, and whether the advice holds."""
