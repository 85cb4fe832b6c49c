"""What is written of products and their sheets."""
