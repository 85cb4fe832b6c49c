"""What a crew says of a day, in plain values: hours as planned, rows once, tasks behind holds."""
