"""Long work that the worker does for the estimates app."""

from __future__ import annotations

from django.utils import timezone

from estimates.models import ChangeLink, FloorPassport, QuoteLink
from estimates.services import price_import
from estimates.services.orders import offers
from estimates.services.passport import links as passport_links
from estimates.services.privacy import erasing
from estimates.services.sending.links import address_of
from jobs.services.mail.outbox import link_address
from jobs.worker.claims import Effect
from jobs.worker.daily import daily
from jobs.worker.errands import Attempt, handler


@handler(price_import.KIND)
def import_prices(attempt: Attempt) -> Effect:
    """Read a file of prices and hold it against the book; it is written together with "done"."""
    return price_import.effect_of(attempt.errand, attempt.payload, progress=attempt.progress)


@link_address("quote")
def quote_link_address(number: int) -> str:
    """Return the address of a quote's link, for a mail that goes out now."""
    return address_of(QuoteLink.objects.select_related("quote").get(pk=number))


@link_address("change")
def change_link_address(number: int) -> str:
    """Return the address of a change order's link, for a mail that goes out now."""
    return offers.address_of(ChangeLink.objects.get(pk=number))


@link_address("passport")
def passport_link_address(number: int) -> str:
    """Return the address of a floor passport, for a mail that goes out now."""
    return passport_links.address_of(FloorPassport.objects.get(pk=number))


daily(erasing.KIND)


@handler(erasing.KIND)
def erase_clients(attempt: Attempt) -> Effect:
    """Erase the clients whose time, as the owner set it, is over."""
    erased = erasing.erase_past_their_time(timezone.now())
    return lambda: dict(erased)
