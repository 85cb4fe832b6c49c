"""The pictures of the help, drawn of an invented house."""
