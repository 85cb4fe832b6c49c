"""Where the work of a scope lies: rooms and their rows, what each row takes."""
