"""Settings of a Rowbook that is to come: one more migration of the jobs app."""

from tests.settings import *  # noqa: F403

MIGRATION_MODULES = {"jobs": "tests.later.migrations"}
