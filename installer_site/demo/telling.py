"""The scenario told through the same services that the pages use."""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from estimates.domain.starting import STARTING_PRICES
from estimates.services import prices
from installer_site.demo import story
from installer_site.demo.card import tell_card
from installer_site.demo.floor_work import quote_job, tell_closed, tell_laying
from installer_site.demo.products import COMMON_PRACTICE, PRODUCTS, DemoProduct
from installer_site.demo.rooms import DemoDoorway, DemoRoom
from installer_site.demo.setup import tell_setup
from jobs.clock import local_to, today_of
from jobs.domain.floors.rule_sources import DEFAULT
from jobs.domain.lengths import millimeters
from jobs.domain.rooms.outline import draw_room
from jobs.domain.rooms.typed import TypedRoom, TypedWall
from jobs.models import (
    Client,
    Company,
    Doorway,
    FloorZone,
    Job,
    Mail,
    Product,
    Room,
    SiteFacts,
    User,
)
from jobs.readers.rooms import treatment_of
from jobs.services.floors import floors
from jobs.services.jobs import add_job
from jobs.services.openings import doorways, stairs
from jobs.services.people import add_crew
from jobs.services.plans import plan_zone_now
from jobs.services.products.products import add_product
from jobs.services.rooms import add_room
from layout.values.units import Unit, parse_length

RUNS = ("max_run", "max_run_width")
LENGTHS = (
    *("length", "width", "thickness", "gap", "saw_kerf", "rip_kerf"),
    *("min_end", "min_offset", "min_row"),
)
AS_TYPED = ("name", "units", "core", "per_carton", "attached_pad", "acclimate_hours")


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoTerms:
    """What two demos share to be alike: the day they are made on, and the planner's effort.

    Without iterations the planner has its seconds, and the plan it makes in them differs from
    machine to machine.
    """

    today: date
    effort_iterations: int | None


def tell(
    password: str, *, today: date | None = None, effort_iterations: int | None = None
) -> Company:
    """Return the demo company with everything in it, made now, as on ``today`` where it is given.

    Moments of storing are the clock's in any case.
    """
    company = Company.objects.create(**story.COMPANY)
    people = {person.email: _person(company, person, password) for person in story.PEOPLE}
    owner = people[story.OWNER.email]
    lead, helper = people[story.LEAD.email], people[story.HELPER.email]
    values = {"name": story.CREW, "hours_per_day": Decimal(8)}
    add_crew(company=company, user=owner, key="demo-crew", values=values, members=[lead, helper])
    tell_setup(company, owner)
    terms = DemoTerms(today=today or today_of(company), effort_iterations=effort_iterations)
    products = [_product(company, owner, product, terms.today) for product in PRODUCTS]
    _prices(company, owner, terms.today)
    tell_card(company, owner, terms.today)
    with local_to(company):
        for job in story.JOBS:
            _job(company, owner, job, products, terms)
    # Nobody of the demo has a mailbox: where a server is set, what they would get stays here.
    Mail.objects.filter(company=company).delete()
    return company


def _person(company: Company, person: story.Person, password: str) -> User:
    return User.objects.create_user(
        person.email,
        password,
        name=person.name,
        role=person.role,
        phone=person.phone,
        company=company,
    )


def _product(company: Company, owner: User, product: DemoProduct, today: date) -> Product:
    unit = _unit(product.units)
    values: dict[str, object] = {
        f"{name}_mm": _mm(getattr(product, name), unit) for name in (*LENGTHS, *RUNS)
    }
    values |= {name: getattr(product, name) for name in AS_TYPED}
    values |= product.sheet
    sizes = ("length", "width", "thickness")
    values["typed_sizes"] = {f"{name}_mm": getattr(product, name) for name in sizes}
    values["carton_weight_kg"] = Decimal(product.carton_weight_kg)
    values["rules_source"] = f"Maker's sheet, {product.sheet['sheet_edition']}"
    values["rule_sources"] = dict.fromkeys(COMMON_PRACTICE, DEFAULT)
    key = f"demo-{product.name}"[:64]
    row = add_product(company=company, user=owner, key=key, values=values)
    _price(company, owner, today, code="cartons", item=row.name, amount=product.price)
    return row


def _prices(company: Company, owner: User, today: date) -> None:
    for price in STARTING_PRICES:
        _price(company, owner, today, code=price.code, item="", amount=price.amount)


def _price(
    company: Company, owner: User, today: date, *, code: str, item: str, amount: str
) -> None:
    labels = {price.code: (price.label, price.unit) for price in STARTING_PRICES}
    label, unit = labels.get(code, ("Flooring", "carton"))
    values = {
        "code": code,
        "item": item,
        "label": label,
        "unit": unit,
        "kind": "material",
        "amount": Decimal(amount),
        "taxable": True,
        "effective_from": today - timedelta(days=120),
    }
    prices.set_price(company=company, user=owner, key=f"demo-{code}-{item}"[:64], values=values)


def _job(
    company: Company, owner: User, job: story.DemoJob, products: list[Product], terms: DemoTerms
) -> None:
    row = _job_row(company, owner, job)
    rooms = {room.name: _room(row, owner, room) for room in job.rooms}
    for room in job.rooms:
        for doorway in room.doorways:
            _doorway(rooms, rooms[room.name], owner, doorway)
    for stair in job.stairs:
        stairs.add_stair(job=row, user=owner, key=f"demo-{row.pk}-{stair['name']}", values=stair)
    if job.stage == "measured":
        return
    zone = _zone(row, owner, job, products[job.product], list(rooms.values()))
    plan_zone_now(zone, user=owner, effort_iterations=terms.effort_iterations)
    if job.stage == "quoted":
        quote_job(row, owner, terms.today)
    elif job.stage == "laying":
        tell_laying(row, owner, terms.today)
    elif job.stage == "closed":
        tell_closed(row, owner, terms.today)


def _job_row(company: Company, owner: User, job: story.DemoJob) -> Job:
    client = Client.objects.create(company=company, **job.client)
    values = {"client": client, "title": job.title, "address": job.address, "units": job.units}
    row = add_job(company=company, user=owner, key=f"demo-{job.title}"[:50], values=values)
    SiteFacts.objects.filter(job=row).update(**job.site)
    return row


def _room(job: Job, owner: User, room: DemoRoom) -> Room:
    walls = tuple(walked_wall(length, turn) for length, turn in room.walls)
    measured = TypedRoom(walls=walls, holes=room.holes)
    return add_room(
        job=job,
        user=owner,
        key=f"demo-{job.pk}-{room.name}",
        treatment=replace(treatment_of(Room()), name=room.name, **room.values),
        measured=measured,
        drawn=draw_room(measured, unit=job.unit),
    )


def walked_wall(length: str, turn: str) -> TypedWall:
    """Return a wall as it could have been typed; `angle 130` is a corner of 130 degrees inside."""
    word, _, degrees = turn.partition(" ")
    if word != "angle":
        return TypedWall(length=length, turn=turn)
    inside = Decimal(degrees)
    turn = "right" if inside > 180 else "left"
    return TypedWall(length=length, turn=turn, angle=f"{min(inside, 360 - inside):g}")


def _doorway(rooms: dict[str, Room], room: Room, owner: User, doorway: DemoDoorway) -> Doorway:
    unit = _unit(room.job.units)
    plain = asdict(doorway)
    values: dict[str, object] = {
        name: plain[name]
        for name in ("beyond_floor", "beyond_kind", "kind", "swing", "casings", "doors_off")
    }
    values["wall"] = doorway.wall - 1
    values |= {f"{name}_mm": _mm(plain[name], unit) for name in ("offset", "width", "depth")}
    for name in ("beyond_high", "clearance"):
        values[f"{name}_mm"] = _mm(plain[name], unit) if plain[name] else None
    if doorway.beyond:
        values["beyond"] = rooms[doorway.beyond]
        values["beyond_wall"] = doorway.beyond_wall - 1
        values["beyond_offset_mm"] = _mm(doorway.beyond_offset, unit)
    key = f"demo-doorway-{room.pk}-{doorway.wall}"
    return doorways.add_doorway(room=room, user=owner, key=key, values=values)


def _zone(
    job: Job, owner: User, of_story: story.DemoJob, product: Product, rooms: list[Room]
) -> FloorZone:
    values: dict[str, object] = {"name": of_story.floor, "product": product}
    values["direction_deg"] = Decimal(of_story.direction_deg)
    values["pad"] = not product.attached_pad
    return floors.add_zone(
        job=job, user=owner, key=f"demo-{job.pk}-floor", values=values, rooms=rooms
    )


def _unit(units: str) -> Unit:
    return Unit("mm" if units == "metric" else "in")


def _mm(text: str, unit: Unit) -> Decimal:
    return Decimal(0) if text == "0" else millimeters(parse_length(text, bare=unit).mm)
