"""The link of a quote: made with it, computed afresh, renewed where it is to open nothing more."""

from __future__ import annotations

import secrets
from datetime import date, timedelta

from django.db import transaction
from django.utils import timezone

from estimates.models import Quote, QuoteEvent, QuoteLink
from jobs.domain.checks import BadValueError
from jobs.domain.link_token import token_hash
from jobs.http import whole_address
from jobs.models import User
from jobs.services.records import audit_job

OPENS_FOR = timedelta(days=365)
"""A link opens its quote for a year after the quote's last day; common practice, no source."""


@transaction.atomic
def open_link(*, quote: Quote) -> QuoteLink:
    """Return the new link of a quote that has none."""
    unknown = secrets.token_hex(32)
    expires = quote.valid_until + OPENS_FOR
    link = QuoteLink.objects.create(quote=quote, token_hash=unknown, expires_on=expires)
    return _stamped(link)


@transaction.atomic
def renew_link(*, quote: Quote, user: User) -> QuoteLink:
    """Revoke every link of a quote and return the one that opens it from now on."""
    link = QuoteLink.objects.select_for_update().get(quote=quote, version__gte=1)
    quote.links.filter(version=0, revoked_at=None).update(revoked_at=timezone.now())
    link.version += 1
    link.revoked_at = None
    _stamped(link)
    QuoteEvent.objects.create(
        quote=quote, kind=QuoteEvent.Kind.RENEWED, user=user, name=user.name, link=link
    )
    audit_job(job=quote.job, user=user, act=f"Made a new link of {quote}")
    return link


@transaction.atomic
def set_expiry(*, quote: Quote, user: User, until: date) -> QuoteLink:
    """Return the link of a quote, which opens it until this day and no longer.

    Raises:
        BadValueError: a day before the quote's own last one; withdraw the quote instead.
    """
    if until < quote.valid_until:
        accepted = f"{quote.valid_until.isoformat()}, until which the quote is valid, or later"
        raise BadValueError(field="until", value=until.isoformat(), accepted=accepted)
    link = quote.link
    link.expires_on = until
    link.save(update_fields=["expires_on"])
    quote.links.filter(version=0).update(expires_on=until)
    audit_job(job=quote.job, user=user, act=f"The link of {quote} opens it until {until}")
    return link


def address_of(link: QuoteLink) -> str:
    """Return the whole address that the link is, computed afresh; kept nowhere.

    Where the site's secret was changed since, the link's hash is that of another word: it is
    written anew, so that what is sent from now on opens. What was sent before no longer does.
    """
    if token_hash(link.token) != link.token_hash:
        _stamped(link)
    return whole_address("quote-public", link.token)


def _stamped(link: QuoteLink) -> QuoteLink:
    """Return the link, saved with the hash of its word."""
    link.token_hash = token_hash(link.token)
    link.save()
    return link
