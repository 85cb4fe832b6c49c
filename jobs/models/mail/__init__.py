"""What is sent by mail."""
