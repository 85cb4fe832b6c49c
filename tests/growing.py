"""A company's book whose lists grow: so many rows more of a kind, quickly made, as varied as life.

Each of these functions makes one more row; ``number`` tells it from the others. Rows that hang on
one job, room or floor hang on the book's.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from functools import cached_property

from estimates.models import ChangeOrder, Invoice, PriceItem, Purchase, Quote
from jobs.clock import today_of
from jobs.domain.lengths import MM_PER_IN
from jobs.models import (
    Company,
    Crew,
    Doorway,
    FloorPlan,
    FloorZone,
    HoldClearance,
    Job,
    Rate,
    Role,
    Room,
    SiteFacts,
    StairFlight,
    User,
    WorkDay,
)
from jobs.services.records import audit, freeze
from tests.builders import (
    make_client,
    make_crew,
    make_day,
    make_doorway,
    make_job,
    make_log_entry,
    make_packet,
    make_person,
    make_product,
    make_room,
    make_run,
    make_stair,
    make_zone,
)
from tests.estimates.a_job import an_agreed_job, an_owner, company_of
from tests.estimates.invoices_by_hand import an_invoice_of
from tests.jobs.agreed import agree, make_scope
from tests.jobs.plans import planned_alike
from tests.stages import STAGES, close, make_estimate

FIRST_DAY = date(2027, 3, 1)
_WALL_MM = Decimal("114.3")


class OwnersBook:
    """An owner's book; what a list hangs on is made when it is first asked for."""

    def __init__(self) -> None:
        self.owner: User = an_owner()
        self.company: Company = company_of(self.owner)

    @cached_property
    def job(self) -> Job:
        """A job with nothing measured yet, its scope agreed on, and a product to lay in it."""
        job = make_job(self.company)
        make_product(self.company)
        return agree(job, make_scope(job))

    @cached_property
    def accepted(self) -> Job:
        """A planned job whose quote was accepted, for which something was bought; closed by now."""
        job = an_agreed_job(self.owner)
        _buy(job, "Underlay")
        close(job)
        return job

    @cached_property
    def bill(self) -> Invoice:
        """An invoice of the accepted job."""
        return an_invoice_of(self.accepted)

    @cached_property
    def quote(self) -> Quote:
        """The quote of the accepted job."""
        return self.accepted.quotes.get()

    @cached_property
    def room(self) -> Room:
        """A room with long walls."""
        return make_room(self.job, name="Hall", size=(6000, 200))

    @cached_property
    def price(self) -> PriceItem:
        """What a roll of pad costs, in force for long."""
        return PriceItem.objects.get(company=self.company, code="pad")

    @cached_property
    def doorway(self) -> Doorway:
        """The first doorway of the room."""
        return make_doorway(self.room)

    @cached_property
    def stair(self) -> StairFlight:
        """A flight of stairs of the job."""
        return make_stair(self.job)

    @cached_property
    def floor(self) -> FloorZone:
        """A planned floor of one room."""
        zone = make_zone(make_room(self.job, name="Room 0"))
        planned_alike(zone)
        return zone

    @cached_property
    def plan(self) -> FloorPlan:
        """The plan of the floor."""
        return self.floor.plans.get()

    @cached_property
    def crew(self) -> Crew:
        """A crew of one."""
        return make_crew(self.company, make_person(self.company, Role.CREW))

    @cached_property
    def day(self) -> WorkDay:
        """The first day of the job."""
        return make_day(self.job, self.crew, scope=self.job.agreed_scope, date=FIRST_DAY)


Grow = Callable[[OwnersBook, int], None]


def jobs(book: OwnersBook, number: int) -> None:
    """Jobs at every stage, the farthest first."""
    make = STAGES[-number % len(STAGES)][1]
    make(book.company)


def clients(book: OwnersBook, number: int) -> None:
    """Clients with a job each."""
    make_job(book.company, client=make_client(book.company, f"Client {number}"))


def people(book: OwnersBook, number: int) -> None:
    """People of the company, all of them in its crew."""
    book.crew.members.add(make_person(book.company, Role.CREW))


def audit_lines(book: OwnersBook, number: int) -> None:
    """Lines of what was done."""
    audit(user=book.owner, company=book.company, subject=f"job {number}", act="Looked")


def crews(book: OwnersBook, number: int) -> None:
    """Crews of two, with a day on a job of its own each."""
    crew = make_crew(book.company, *(make_person(book.company, Role.CREW) for _ in range(2)))
    job = make_job(book.company)
    make_day(job, crew, scope=make_scope(job), date=today_of(book.company))


def products(book: OwnersBook, number: int) -> None:
    """Products on offer."""
    make_product(book.company)


def prices(book: OwnersBook, number: int) -> None:
    """Prices of long ago, in force now, and in force later."""
    for day in (date(2021, 1, 1), date(2022, 1, 1), date(2099, 1, 1)):
        values = {"item": f"Plank {number}", "label": "Cartons", "unit": "carton", "amount": 60}
        PriceItem.objects.create(company=book.company, code="cartons", effective_from=day, **values)


def later_prices(book: OwnersBook, number: int) -> None:
    """Prices of one thing, from one day after another on."""
    day = date(2021, 1, 1) + timedelta(days=number)
    values = {"label": "Pad", "unit": "roll", "pack": "roll", "amount": 30 + number}
    PriceItem.objects.create(company=book.company, code="pad", effective_from=day, **values)


def rates(book: OwnersBook, number: int) -> None:
    """Rates of the company's own."""
    values = {"task": "setup", "driver": "visits", "item": f"kind {number}", "hours": 2}
    Rate.objects.create(company=book.company, **values)


def rooms(book: OwnersBook, number: int) -> None:
    """Rooms of the job in no floor, each with trim and a doorway to the room before it."""
    before = book.job.rooms.last()
    room = make_room(book.job, name=f"Room {number}", toilets=1, appliance_clear_mm=9)
    make_doorway(room, beyond=before, beyond_wall=before and 2, beyond_offset_mm=before and 100)
    make_run(room, action="replace")


def floors(book: OwnersBook, number: int) -> None:
    """Planned floors of the job, each of one room with its own product; every other one begun."""
    rooms(book, number)
    room = book.job.rooms.get(name=f"Room {number}")
    zone = make_zone(room, make_product(book.company, name=f"Plank {number}", most_rh_pct=85))
    plan = planned_alike(zone)
    if number % 2:
        zone.going_on = {"plan": plan.pk, "laid": ["1-1"], "planks": 20, "gone": []}
        zone.save()


def stairs(book: OwnersBook, number: int) -> None:
    """Flights of stairs of the job, which has a hall."""
    assert book.room.job == book.job
    make_stair(book.job, name=f"Stair {number}", risers=["7 1/2"] * 13)


def clearances(book: OwnersBook, number: int) -> None:
    """Hold points of the job that were cleared."""
    HoldClearance.objects.create(job=book.job, code=f"hold-{number}", by="Ines", note="Tested")


def readings(book: OwnersBook, number: int) -> None:
    """Moisture readings of the job's slab."""
    facts = SiteFacts.objects.get(job=book.job)
    reading = {"method": "rh", "value": "78", "where": f"place {number}", "on": "2027-01-01"}
    facts.readings, facts.subfloor = [*facts.readings, reading], "slab"
    facts.save()


def depths(book: OwnersBook, number: int) -> None:
    """Depth readings of the room."""
    book.room.depths.append({"x": str(100 + number), "y": "60", "depth": "1/4"})
    book.room.save()


def doorways(book: OwnersBook, number: int) -> None:
    """Doorways of the room, every other one measured in the room beyond."""
    beyond = make_room(book.job, name=f"Room {number}")
    place = Decimal(2000 * book.room.doorways.count() + 100)
    make_doorway(book.room, offset_mm=place, beyond=beyond)
    make_doorway(beyond, wall=1, beyond=book.room, beyond_wall=2, beyond_offset_mm=place)


def joined_rooms(book: OwnersBook, number: int) -> None:
    """Rooms of the floor, side by side, each with a doorway from the one before it."""
    last = book.floor.rooms.last()
    assert last is not None
    step = 60 * MM_PER_IN + _WALL_MM
    place = {"zone": book.floor, "order": number, "place_x_mm": last.place_x_mm + step}
    room = make_room(book.job, name=f"Room {number}", **place)
    sizes = {"wall": 1, "offset_mm": 254, "width_mm": 762, "depth_mm": _WALL_MM}
    make_doorway(last, beyond=room, beyond_wall=3, beyond_offset_mm=Decimal("228.6"), **sizes)


def plans(book: OwnersBook, number: int) -> None:
    """Plans of the floor."""
    planned_alike(book.floor)


def runs(book: OwnersBook, number: int) -> None:
    """Runs of trim of the room, bought new."""
    make_run(book.room, place=number, action="replace")


def estimates(book: OwnersBook, number: int) -> None:
    """Estimates of the job."""
    make_estimate(book.job)


def change_orders(book: OwnersBook, number: int) -> None:
    """Change orders of the accepted job."""
    job = book.accepted
    assert job.agreed_scope is not None
    scope, estimate = make_scope(job), job.estimates.latest()
    content = {
        "format": 1,
        "kind": "change-order",
        "number": number,
        "job_number": job.number,
        "title": job.title,
        "currency": "USD",
        "changes": [f"Change {number}"],
        "scope_before_sha256": job.agreed_scope.document.sha256,
        "scope_sha256": scope.document.sha256,
        "estimate_sha256": estimate.document.sha256,
        "difference": "100",
        "tax_difference": "0",
        "agreed_price": "1000",
        "amount": "100",
        "agreed_by": "Ines Okafor",
        "agreed_on": "2027-03-01",
    }
    document = freeze(company=job.company, kind="change-order", content=content, user=None)
    values = {"number": number, "amount": 100, "agreed_by": "Ines Okafor"}
    ChangeOrder.objects.create(job=job, scope=scope, document=document, **values)


def purchases(book: OwnersBook, number: int) -> None:
    """Purchases for the accepted job."""
    _buy(book.accepted, f"Caulk {number}")


def logged_days(book: OwnersBook, number: int) -> None:
    """Days of the accepted job with a log of two entries each."""
    _logged_day(book, book.accepted, number)


def closed_jobs(book: OwnersBook, number: int) -> None:
    """Jobs that were logged and closed, from which rates are learned."""
    job = make_job(book.company)
    agree(job, make_scope(job))
    _logged_day(book, job, number)
    close(job)


def days(book: OwnersBook, number: int) -> None:
    """Days of the job by a crew of their own each, with a log of two entries."""
    _logged_day(book, book.job, number, crew=make_crew(book.company, book.owner))


def days_of_the_crew(book: OwnersBook, number: int) -> None:
    """Days of the crew, each on a job of its own."""
    job = make_job(book.company)
    make_day(job, book.crew, scope=make_scope(job), date=FIRST_DAY + timedelta(days=number))


def entries(book: OwnersBook, number: int) -> None:
    """Entries of the day's log, each by somebody else and with a photograph."""
    make_log_entry(book.day, make_person(book.company, Role.CREW), task="lay", zone="Den")


def packets(book: OwnersBook, number: int) -> None:
    """Packets of the job."""
    make_packet(book.job)


def _buy(job: Job, label: str) -> None:
    values = {"code": "caulk", "label": label, "unit": "tube", "quantity": 2}
    Purchase.objects.create(job=job, amount=8, bought_on=FIRST_DAY, **values)


def _logged_day(book: OwnersBook, job: Job, number: int, crew: Crew | None = None) -> None:
    scope, date = job.agreed_scope, FIRST_DAY + timedelta(days=number)
    day = make_day(job, crew or book.crew, scope=scope, number=number, date=date)
    for task in ("setup", "lay"):
        make_log_entry(day, book.owner, task=task, zone="Den" if task == "lay" else "")
