"""The tables as they were at a migration, for tests of what migrations do to rows.

Tests of a module go from one migration to the next without coming back between them: put them in
the order of their migrations, and each costs what lies between. `there_and_back` of the conftest
brings the tables to where they were after the last one.
"""

from __future__ import annotations

from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.state import StateApps


def tables_at(app: str, name: str) -> StateApps:
    """Bring the tables of an app to a migration; return all models as they are then."""
    MigrationExecutor(connection).migrate([(app, name)])
    executor = MigrationExecutor(connection)
    return executor.loader.project_state(list(executor.loader.applied_migrations)).apps


def tables_of_today() -> None:
    """Bring all tables to the last migration."""
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())
