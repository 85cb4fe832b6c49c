"""One page, two answers: the whole page, or only the part that htmx asked for.

A stored document that can't be read has one answer too, whatever page met it.

`bool(request.htmx)` is also true where a boosted link or the browser's history asks, and both need
the whole page; so the decision is made here and nowhere else.
"""

import logging
from collections.abc import Callable, Mapping
from typing import cast

from django.conf import settings
from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render, resolve_url
from django.urls import reverse
from django.utils.cache import patch_vary_headers
from django_htmx.http import HttpResponseClientRedirect
from django_htmx.middleware import HtmxDetails

from jobs.domain.formats import BrokenDocumentError
from jobs.domain.numerals import whole_number

log = logging.getLogger(__name__)

Answer = Callable[[HttpRequest], HttpResponse]
Context = dict[str, object]
"""What a template is handed, by the names that it uses."""

# The request headers that decide; a cache must keep their answers apart.
DECIDING_HEADERS = ("HX-Request", "HX-Boosted", "HX-History-Restore-Request")


def wants_part(request: HttpRequest) -> bool:
    """Whether htmx asks for a part of a page rather than for a whole one."""
    htmx = cast(HtmxDetails | None, getattr(request, "htmx", None))
    if not htmx:
        return False
    return not htmx.boosted and not htmx.history_restore_request


def render_page(
    request: HttpRequest,
    template: str,
    context: Mapping[str, object] | None = None,
    *,
    part: str = "",
    status: int = 200,
) -> HttpResponse:
    """The page, or its named partial `part` where htmx asks for a part.

    A refused form is answered with status 422: htmx swaps it in, a browser shows it.
    """
    name = f"{template}#{part}" if part and wants_part(request) else template
    response = render(request, name, dict(context or {}), status=status)
    patch_vary_headers(response, DECIDING_HEADERS)
    return response


def go_to(
    request: HttpRequest, to: str, *args: object
) -> HttpResponseRedirect | HttpResponseClientRedirect:
    """Lead to a URL or the page of that name, also where htmx would swap it into a part."""
    url = resolve_url(to, *args)
    if wants_part(request):
        return HttpResponseClientRedirect(url)
    return HttpResponseRedirect(url, status=303)


def whole_address(name: str, *args: object) -> str:
    """Return the whole address of the page of this name, as it is sent to people.

    The site's address is a setting: what a visitor's browser called it is no address to send.
    """
    return f"{settings.SITE_URL}{reverse(name, args=args)}"


def sign_in_name(
    request: HttpRequest | None, credentials: Mapping[str, object] | None = None
) -> str:
    """Return the name that a sign-in is counted under: capitals and blanks make no other one."""
    typed = (credentials or {}).get("username") or (request.POST.get("username") if request else "")
    return str(typed or "").strip().casefold()


def client_address(request: HttpRequest) -> str:
    """Return the network address of who asks, as seen from behind the proxy.

    Behind the TLS proxy (HTTPS set) that is the last entry of X-Forwarded-For: the one the proxy
    wrote. Entries before it come from the client and are not believed.
    """
    nearest = str(request.META.get("REMOTE_ADDR", ""))
    if not settings.HTTPS:
        return nearest
    return str(request.META.get("HTTP_X_FORWARDED_FOR", "")).rpartition(",")[2].strip() or nearest


def private_pages(get_response: Answer) -> Answer:
    """Return the middleware by which no browser and no proxy keeps a page of the book.

    Who signs out leaves nothing behind the button that goes back. What says for itself how long it
    may be kept is left alone; the pages of a day are kept by their script, and dropped by it.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        response.headers.setdefault("Cache-Control", "private, no-store")
        return response

    return answer


class BrokenDocumentMiddleware:
    """Answers for every page that meets a stored document which can't be read.

    The page says what is wrong and what to do. Its status is 409: what stands in the books is in
    the way, not what was asked. The whole write that met it is taken back.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Return the answer of the page itself."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """Return the page about a broken document; None leaves every other exception alone."""
        if not isinstance(exception, BrokenDocumentError):
            return None
        log.error("%s", exception)
        context = {"broken": exception}
        return render_page(request, "broken_document.html", context, status=409)


MOST_SENT_MB = 100
"""No form of ours sends more at once: photographs are made smaller before they are sent."""


class ReadableRequestMiddleware:
    """Refuses what no page can read: a NUL in the address, no charset, too much at once.

    Databases differ in what they say to a NUL, so it is refused before any is asked.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Return the page's answer. Raises BadRequest for what can't be read."""
        if _bytes_sent(request) > MOST_SENT_MB * 2**20:
            return render(request, "413.html", {"most": MOST_SENT_MB}, status=413)
        query = str(request.META.get("QUERY_STRING", ""))
        if "\0" in request.path or "\0" in query or "%00" in query:
            message = "The address has a NUL in it."
            raise BadRequest(message)
        if not _is_charset(str((request.content_params or {}).get("charset", "utf-8"))):
            request.encoding = "utf-8"  # the refusal itself is a page that reads the request
            message = "What was sent names a charset that is none."
            raise BadRequest(message)
        return self.get_response(request)


def _bytes_sent(request: HttpRequest) -> int:
    """Return how much a request says that it brings; none where it says no number."""
    return whole_number(str(request.META.get("CONTENT_LENGTH", ""))) or 0


def _is_charset(name: str) -> bool:
    """Whether text can be read by that name; "base64" and such change bytes, not letters."""
    try:
        b"a".decode(name)
    except (LookupError, ValueError):
        return False
    return True
