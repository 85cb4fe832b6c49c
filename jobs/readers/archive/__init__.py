"""Jobs and clients looked for, archived ones too."""
