"""An invented company with jobs at different stages, for trying the book out."""
