"""Where the end joints fall: starters chosen for every run."""
