"""Where the contents of files lie."""
