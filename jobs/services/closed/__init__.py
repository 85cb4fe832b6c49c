"""What comes after a job was closed: callbacks and corrections of its log."""
