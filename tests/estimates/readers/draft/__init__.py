"""What is read of the draft of a quote."""
