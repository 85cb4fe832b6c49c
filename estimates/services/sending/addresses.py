"""The whole address of a page, as it is sent to people: by the site's own address, always."""

from __future__ import annotations

from django.conf import settings
from django.urls import reverse


def whole_address(name: str, *args: object) -> str:
    """Return the whole address of the page of this name.

    The site's address is a setting: what a visitor's browser called it is no address to send.
    """
    return f"{settings.SITE_URL}{reverse(name, args=args)}"
