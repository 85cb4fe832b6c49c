"""Migrate an empty database from nothing and keep it for the test run: python -m tests.database."""

import django
from django.db import connection

from tests.database import is_kept, keep_made

django.setup()
if is_kept():
    connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
    keep_made()
    # Its log is written into it; whoever copies a kept one over it finds no old log beside it.
    connection.close()
