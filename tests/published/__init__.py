"""Published values where users meet them, and the table of all of them (`values.toml`)."""
