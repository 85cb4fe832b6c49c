"""What the pages of a day's log show: hours as planned, rows on the drawing, questions."""
