"""Rows of who pays for a job, and of the material that they or the client supply."""
