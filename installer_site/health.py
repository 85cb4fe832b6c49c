"""`/healthz`: does the site answer, does its database, is a worker alive, is the book safe."""

import logging

from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from jobs.models.work import ALIVE_FOR, WorkerBeat
from jobs.readers.backups.standing import backup_standing

logger = logging.getLogger(__name__)


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
