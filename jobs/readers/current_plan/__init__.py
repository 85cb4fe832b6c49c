"""What each floor of a job is laid by now: the one reader for packet, days, Today and load list."""
