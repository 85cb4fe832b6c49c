"""The days of a floor as whoever lives there needs them: pure."""
