"""Data of one client: handed over, erased, and erased when its time is over."""
