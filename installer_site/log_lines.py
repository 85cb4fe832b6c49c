"""What the log says: each request has a number, and a link's word is never written.

The number stands in every line that was written for a request, in the answer's `X-Request-Id`, and
on the pages about an error, so that whoever reads the log finds what a person speaks of.
"""

from __future__ import annotations

import json
import logging
import re
import secrets
import time
from collections.abc import Callable
from contextvars import ContextVar

from django.http import HttpRequest, HttpResponse

Answer = Callable[[HttpRequest], HttpResponse]

_number: ContextVar[str] = ContextVar("request_number", default="-")
_LINK = re.compile(r"(?<![\w/])/(q|c|p|f|password/set)/[^\s\"'<>]+")
"""A link's address: its word opens a quote, a change order, a passport, a calendar, a password."""

log = logging.getLogger("rowbook.requests")


def number_requests(get_response: Answer) -> Answer:
    """Return the middleware that numbers a request and leaves a line of how it was answered."""

    def answer(request: HttpRequest) -> HttpResponse:
        number = secrets.token_hex(5)
        request.request_id = number  # type: ignore[attr-defined]  # read by the error pages
        kept, began = _number.set(number), time.perf_counter()
        try:
            response = get_response(request)
            response["X-Request-Id"] = number
            _leave_line(request, response, round(1000 * (time.perf_counter() - began)))
        finally:
            _number.reset(kept)
        return response

    return answer


def _leave_line(request: HttpRequest, response: HttpResponse, took: int) -> None:
    """Write what was wanted, by the route and the keys in it; words of links are left out."""
    match = request.resolver_match
    keys = match.kwargs.items() if match else ()
    facts = {
        "method": request.method,
        "route": f"/{match.route}" if match else "-",
        "keys": {name: value for name, value in keys if isinstance(value, int)},
        "status": response.status_code,
        "ms": took,
        # `_cached_user` is there where the page itself looked: the log asks the database nothing.
        "person": getattr(getattr(request, "_cached_user", None), "pk", None),
    }
    words = "{method} {route} {status} {ms} ms".format(**facts)
    log.info(words, extra={"facts": facts})


class RequestNumber(logging.Filter):
    """Gives every line the number of its request, and takes the words of links out of it."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Whether a line passes: every one does."""
        record.request_id = _number.get()
        said = record.getMessage()
        hidden = _LINK.sub(r"/\1/…", said)
        if hidden != said:
            record.msg, record.args = hidden, ()
        return True


class JsonLine(logging.Formatter):
    """A line of JSON: moment, level, where from, number, words, facts, traceback."""

    def format(self, record: logging.LogRecord) -> str:
        """Return the line."""
        line: dict[str, object] = {
            "at": self.formatTime(record, "%Y-%m-%dT%H:%M:%S%z"),
            "level": record.levelname,
            "from": record.name,
            "request": getattr(record, "request_id", "-"),
            "words": record.getMessage(),
        }
        facts = getattr(record, "facts", None)
        if isinstance(facts, dict):
            line |= facts
        if record.exc_info:
            line["traceback"] = _LINK.sub(r"/\1/…", self.formatException(record.exc_info))
        return json.dumps(line, ensure_ascii=False, default=str)
