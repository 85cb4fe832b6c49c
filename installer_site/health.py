"""`/healthz`: does the site answer, does its database, is a worker alive, is the book safe.

`/readyz`: may people be let in, or are tables of another Rowbook or a shut disk in the way.
"""

import logging
import os
from pathlib import Path

from django.conf import settings
from django.core.files.storage import FileSystemStorage, default_storage
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from jobs.models.work import ALIVE_FOR, WorkerBeat
from jobs.readers.backups.standing import backup_standing

logger = logging.getLogger(__name__)

WRITABLE, ELSEWHERE = "writable", "kept by a storage elsewhere"


@require_safe
@never_cache
def healthz(request: HttpRequest) -> JsonResponse:
    """Return 200 with `database`, `work` and `backup`, or 503 without a usable database.

    `work` is alive or silent; `backup` is good, stale or none, `backup_age` the age of the last
    good one. Neither is a reason to take the site away, so neither changes the status.
    """
    heard_since = timezone.now() - ALIVE_FOR
    try:
        alive = WorkerBeat.objects.filter(seen_at__gte=heard_since).exists()
    except DatabaseError:
        logger.exception("The database (%s) does not answer as it should", connection.vendor)
        return JsonResponse({"database": "does not answer"}, status=503)
    safe = backup_standing()
    return JsonResponse(
        {
            "database": "answers",
            "work": "alive" if alive else "silent",
            "backup": safe.state,
            "backup_age": safe.age_words,
        }
    )


@require_safe
@never_cache
def readyz(request: HttpRequest) -> JsonResponse:
    """Return 200 where pages can be read and written, else 503, with what each part says."""
    parts = {"database": "answers", "tables": _tables(), "files": _files()}
    if parts["tables"] == "":
        parts |= {"database": "does not answer", "tables": "not known"}
    files = parts["files"] in (WRITABLE, ELSEWHERE)
    ready = files and parts["tables"] == "as this Rowbook has them"
    return JsonResponse({"ready": ready, **parts}, status=200 if ready else 503)


def _tables() -> str:
    """Return how the tables stand beside the migrations of this Rowbook; empty: no answer."""
    try:
        executor = MigrationExecutor(connection)
        missing = executor.migration_plan(executor.loader.graph.leaf_nodes())
    except DatabaseError:
        logger.exception("The database (%s) does not answer as it should", connection.vendor)
        return ""
    return f"{len(missing)} migrations are missing" if missing else "as this Rowbook has them"


def _files() -> str:
    """Return whether photographs and papers can be written."""
    if not isinstance(default_storage, FileSystemStorage):
        return ELSEWHERE
    folder = Path(settings.MEDIA_ROOT)
    near = next(place for place in (folder, *folder.parents) if place.exists())
    return WRITABLE if os.access(near, os.W_OK | os.X_OK) else "can't be written"
