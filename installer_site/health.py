"""`/healthz`: does the site answer, does its database, and is a worker alive."""

import logging

from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from jobs.models.work import ALIVE_FOR, WorkerBeat

logger = logging.getLogger(__name__)


@require_safe
@never_cache
def healthz(request: HttpRequest) -> JsonResponse:
    """Return 200 with `database` and `work` (alive or silent), or 503 without a usable database.

    A silent worker is no reason to take the site away, so it does not change the status.
    """
    heard_since = timezone.now() - ALIVE_FOR
    try:
        alive = WorkerBeat.objects.filter(seen_at__gte=heard_since).exists()
    except DatabaseError:
        logger.exception("The database (%s) does not answer as it should", connection.vendor)
        return JsonResponse({"database": "does not answer"}, status=503)
    return JsonResponse({"database": "answers", "work": "alive" if alive else "silent"})
