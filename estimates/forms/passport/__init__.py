"""What is typed on a floor passport: the plank that is damaged."""
