"""A job of two rooms whose quote is accepted, and what happens to it afterwards."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from estimates.models import PriceTerms
from estimates.readers.prices import terms_row
from jobs.models import Company, Job, Rate, Room, User
from tests.builders import make_job, make_plan, make_product, make_room, make_zone
from tests.estimates.a_job import a_quote, accepted, company_of, set_price

HALL = (120, 49)
LONGER_HALL = (216, 49)


def two_rooms(owner: User) -> Job:
    """Den and hall, each a floor of oak; the quote is accepted, at 903.21 before tax."""
    company = company_of(owner)
    job, oak = make_job(company), make_product(company, name="Oak")
    for room in (make_room(job), make_room(job, "Hall", HALL)):
        make_plan(make_zone(room, oak))
    accepted(a_quote(owner, job))
    return Job.objects.get(pk=job.pk)


def hall_of(job: Job) -> Room:
    return job.rooms.select_related("zone").get(name="Hall")


def widen(job: Job, size: tuple[int, int] = LONGER_HALL) -> Job:
    """The hall is measured again and is longer; nobody has planned it again yet."""
    width, depth = size
    hall = hall_of(job)
    hall.outline = [[0, 0], [width, 0], [width, depth], [0, depth]]
    hall.save()
    return Job.objects.get(pk=job.pk)


def plan_hall(job: Job) -> Job:
    zone = hall_of(job).zone
    assert zone is not None
    make_plan(zone)
    return Job.objects.get(pk=job.pk)


def learn(company: Company) -> None:
    """Every rate of the hall's work is learned to be five times as long, or so."""
    learned = [
        ("prep", "floor_area", "2", 100),
        ("lay", "floor_area", "10", 100),
        ("lay", "pieces", "0.05", 1),
        ("lay", "crosscuts", "0.15", 1),
        ("lay", "rips", "0.4", 1),
        ("clean", "floor_area", "0.75", 100),
        ("setup", "visits", "7.5", 1),
    ]
    for task, driver, hours, per in learned:
        Rate.objects.create(company=company, task=task, driver=driver, hours=hours, per=per)


def make_dearer(company: Company, day: date) -> None:
    """Material costs more, an hour costs more, and overhead and margin are higher."""
    for code in ("cartons", "spacers"):
        set_price(company, code, "99.00", day)
    terms: PriceTerms = terms_row(company)
    terms.burdened_rate, terms.overhead_percent = Decimal(90), Decimal(30)
    terms.margin_percent, terms.minimum_charge = Decimal(40), Decimal(2000)
    terms.save()
    Company.objects.filter(pk=company.pk).update(crew_day_hours=8, trip_hours=3)
