"""What changes in a crew while its jobs go on."""
