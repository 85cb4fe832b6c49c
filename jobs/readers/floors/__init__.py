"""Floors as their rows stand."""
