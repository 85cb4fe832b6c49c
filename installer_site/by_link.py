"""Pages behind a link, without a sign-in: one address may ask for so many of them in a minute.

A homeowner who reads, looks at pictures and signs asks for a few dozen. Who asks for hundreds
guesses at links, or keeps the machine from those who work with it.
"""

from __future__ import annotations

import logging
from collections.abc import Callable

from django.conf import settings
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from jobs.http import client_address

log = logging.getLogger(__name__)

WINDOW_SECONDS = 60


class ByLinkMiddleware:
    """Answers 429 in our words where an address asks too often; each web process counts alone."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Return the answer of the page itself."""
        return self.get_response(request)

    def process_view(
        self,
        request: HttpRequest,
        view: object,
        places: list[object],
        names: dict[str, object],
    ) -> HttpResponse | None:
        """Return the page that says to wait; None where the page of the link may answer."""
        if "token" not in names or _counted(client_address(request)) <= settings.LINK_REQUESTS:
            return None
        log.warning("too many requests by link from one address")
        response = render(request, "429.html", {"seconds": WINDOW_SECONDS}, status=429)
        response.headers["Retry-After"] = str(WINDOW_SECONDS)
        return response


def _counted(address: str) -> int:
    """Count a request of an address, and return how many it made since its first of a minute."""
    key = f"by-link:{address}"
    cache.add(key, 0, WINDOW_SECONDS)
    try:
        return int(cache.incr(key))
    except ValueError:  # its minute ended between the two
        return 1
