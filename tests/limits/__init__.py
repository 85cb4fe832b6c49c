"""Every rule of the judge at its limit: the plans next to it, one that keeps it, one that not."""
