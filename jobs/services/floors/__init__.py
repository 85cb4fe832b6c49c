"""What is written of floors."""
