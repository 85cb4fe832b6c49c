"""Who is asking, as seen from behind the proxy."""

from django.conf import settings
from django.http import HttpRequest


def client_address(request: HttpRequest) -> str:
    """Return the client's network address.

    Behind the TLS proxy (HTTPS set) that is the last entry of X-Forwarded-For: the one the proxy
    wrote. Entries before it come from the client and are not believed.
    """
    nearest = str(request.META.get("REMOTE_ADDR", ""))
    if not settings.HTTPS:
        return nearest
    return str(request.META.get("HTTP_X_FORWARDED_FOR", "")).rpartition(",")[2].strip() or nearest
