"""Where the contents of files lie: a folder, unless the settings name another storage of Django."""
