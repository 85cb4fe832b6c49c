"""What a floor passport tells, frozen when it is told, and what differs later."""
