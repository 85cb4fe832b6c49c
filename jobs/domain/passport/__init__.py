"""What a floor needs that is lived on: a damaged plank got at, a spare that fits it, its care."""
