"""A paid trip put on the price of a job: keyword-only, atomic, audited."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.models import JobLine
from estimates.readers.payers.paid_trip import trip_offer
from estimates.services.job_price import add_line
from jobs.domain.checks import BadValueError
from jobs.models import Job, User


def add_paid_trip(*, job: Job, user: User, key: str, today: date) -> JobLine:
    """Return the line of a trip that somebody else's material makes us drive.

    The same form sent twice adds one line.

    Raises:
        BadValueError: what is supplied came as it should, so there is no trip to be paid.
    """
    offer = trip_offer(job, today)
    if offer is None:
        accepted = "material that came short or of a wrong lot"
        raise BadValueError(field="trip", value="nothing is short", accepted=accepted)
    values = {
        "label": offer.label,
        "quantity": Decimal(1),
        "unit": "trip",
        "unit_cost": offer.unit_cost,
        "unit_price": offer.unit_price,
    }
    return add_line(job=job, user=user, key=key, values=values)
