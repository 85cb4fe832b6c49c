"""A paid trip put on the price of a job, or on a change of it: keyword-only, atomic, audited."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.models import ChangeDraft, JobLine
from estimates.readers.orders.agreed import priced_as_then
from estimates.readers.payers.paid_trip import TripOffer, trip_offer, trip_price
from estimates.services.job_price import add_line
from estimates.services.orders.drafts import draft_trip
from jobs.domain.checks import BadValueError
from jobs.models import Job, User


def add_paid_trip(*, job: Job, user: User, key: str, today: date) -> JobLine:
    """Return the line of a trip that somebody else's material makes us drive.

    The same form sent twice adds one line.

    Raises:
        BadValueError: what is supplied came as it should, so there is no trip to be paid.
    """
    offer = _offered(job, today)
    values = {
        "label": offer.label,
        "quantity": Decimal(1),
        "unit": "trip",
        "unit_cost": offer.unit_cost,
        "unit_price": offer.unit_price,
    }
    return add_line(job=job, user=user, key=key, values=values)


def draft_paid_trip(*, job: Job, user: User, today: date) -> ChangeDraft:
    """Return the draft of a change order over the trip, at the price of the accepted quote.

    Asked for again, the open draft of the same trip.

    Raises:
        BadValueError: what is supplied came as it should, so there is no trip to be paid.
    """
    offer = _offered(job, today)
    then = priced_as_then(job, today)
    price = offer.amount if then is None else trip_price(offer.hours, then.book, then.terms)
    return draft_trip(job=job, user=user, label=offer.label, price=price)


def _offered(job: Job, today: date) -> TripOffer:
    offer = trip_offer(job, today)
    if offer is None:
        accepted = "material that came short or of a wrong lot"
        raise BadValueError(field="trip", value="nothing is short", accepted=accepted)
    return offer
