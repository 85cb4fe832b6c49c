"""What nobody types: addresses, numbers and forms as they come from strangers and from machines."""
