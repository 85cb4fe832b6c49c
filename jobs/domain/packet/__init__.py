"""What stands in a job packet: the crew's paper, without a price. Pure."""
