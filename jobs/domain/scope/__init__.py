"""Quantities, tasks and hours of a job."""
