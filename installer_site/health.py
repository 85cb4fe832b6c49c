"""`/healthz`: does the site answer, and does its database."""

import logging

from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

logger = logging.getLogger(__name__)


@require_safe
@never_cache
def healthz(request: HttpRequest) -> JsonResponse:
    """Return 200 and `{"database": "answers"}`, or 503 when the database does not answer."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
            cursor.fetchone()
    except DatabaseError:
        logger.exception("The database does not answer")
        return JsonResponse({"database": "does not answer"}, status=503)
    return JsonResponse({"database": "answers"})
