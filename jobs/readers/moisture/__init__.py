"""What the moisture gates of jobs hang on."""
