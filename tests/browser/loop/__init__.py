"""The whole loop: from measured rooms to the next quote at the rates that were learned."""
