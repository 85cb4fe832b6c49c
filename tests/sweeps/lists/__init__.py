"""Lists at size: a book of thousands of jobs, and what its pages cost beside a bare view."""
