"""Prints what Home, the job list and the clients cost in a large book, by person.

    python -m tests.sweeps.lists [--jobs 5000] [--clients 1600]

The book is made in a database of its own, which is gone afterwards. Exit 1 where a page asks more
than 15 queries or takes longer than 60 bare views.
"""

from __future__ import annotations

import argparse
import os
import sys


def main() -> int:
    """Return 0 where every page keeps to what was promised."""
    parser = argparse.ArgumentParser(prog="python -m tests.sweeps.lists")
    parser.add_argument("--jobs", type=int, default=5000)
    parser.add_argument("--clients", type=int, default=1600)
    chosen = parser.parse_args()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    from django.db import connection
    from django.test.utils import setup_test_environment

    from tests.sweeps.lists.printed import printed

    setup_test_environment()
    before = connection.creation.create_test_db(verbosity=0, autoclobber=True)
    try:
        costs = printed(chosen.jobs, chosen.clients)
    finally:
        connection.creation.destroy_test_db(before, verbosity=0)
    return int(not all(cost.is_kept for cost in costs))


if __name__ == "__main__":
    sys.exit(main())
