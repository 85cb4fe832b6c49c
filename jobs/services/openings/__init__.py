"""What is written of doorways and stairs."""
