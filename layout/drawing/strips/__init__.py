"""Cut strips as drawings: sheets of rows in millimeters of paper."""
