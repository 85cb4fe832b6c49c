"""The migrations of the jobs app and one that is to come, for archives older than their Rowbook."""

from pathlib import Path

import jobs.migrations

__path__ = [str(Path(__file__).parent), *jobs.migrations.__path__]
