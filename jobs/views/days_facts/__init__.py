"""Pages of the facts that days are laid out by."""
