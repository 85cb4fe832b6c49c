"""Days and the crew, at a browser."""
