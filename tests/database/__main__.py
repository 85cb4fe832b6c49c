"""Migrate an empty database from nothing and keep it for the test run: python -m tests.database."""

import django
from django.db import connection

from tests.database import is_kept, keep_made

django.setup()
if is_kept():
    real = connection.settings_dict["NAME"]
    connection.creation.create_test_db(verbosity=0, autoclobber=True, serialize=False)
    keep_made()
    connection.creation.destroy_test_db(real, verbosity=0)
