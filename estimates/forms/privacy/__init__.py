"""Forms of what is kept, and for how long."""
