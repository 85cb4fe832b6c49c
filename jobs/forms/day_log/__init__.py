"""Forms of a day's log for the whole crew."""
