"""More of what grows: closed jobs with their reviews, callbacks, planks left over, rates taken.

As in `tests.growing`, each of these functions makes one more row.
"""

from __future__ import annotations

from decimal import Decimal

from estimates.models import ClosedReview
from jobs.models import Callback, LeftoverStock, RateTaking
from jobs.services.records import freeze
from tests.builders import make_crew, make_day, make_job, make_person, make_product
from tests.growing import FIRST_DAY, OwnersBook


def closed_reviews(book: OwnersBook, number: int) -> None:
    """Closed jobs of the company, each with a crew of its own."""
    job = make_job(book.company)
    content = {"kind": "review", "number": number}
    ClosedReview.objects.create(
        job=job,
        number=1,
        document=freeze(company=book.company, kind="review", content=content, user=None),
        closed_on=FIRST_DAY,
        price=Decimal(1000 + number),
        cost=600,
        contribution=400 + number,
        quoted=500,
        days_on_site=2,
        crew=f"Crew {number}",
        floor="Laminate",
    )


def callbacks(book: OwnersBook, number: int) -> None:
    """Callbacks to the accepted job."""
    job = book.accepted
    crew = make_crew(book.company, make_person(book.company, "crew"))
    day = make_day(job, crew)
    Callback.objects.create(job=job, day=day, what=f"Board {number} clicks")


def leftovers(book: OwnersBook, number: int) -> None:
    """Planks left over, each of a product of its own."""
    LeftoverStock.objects.create(
        company=book.company,
        product=make_product(book.company),
        lot=f"L{number}",
        planks=number + 1,
        source=book.job,
        kept_on=FIRST_DAY,
    )


def takings(book: OwnersBook, number: int) -> None:
    """Rates taken from the logs."""
    rates: list[dict[str, object]] = [
        {"task": "lay", "driver": "rips", "item": "", "before": None, "after": {}}
    ]
    RateTaking.objects.create(company=book.company, who=book.owner, rates=rates)
