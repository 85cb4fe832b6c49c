"""What is typed of a product: the carton first, then step by step what its maker's sheet says."""
