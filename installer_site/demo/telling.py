"""The scenario told through the same services that the pages use."""

from __future__ import annotations

from dataclasses import asdict, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from estimates.domain.starting import STARTING_PRICES
from estimates.services import quotes as money
from installer_site.demo import story
from installer_site.demo.floor_work import quote_job, tell_closed, tell_laying
from jobs.clock import local_to, today_of
from jobs.domain.floors.rule_sources import DEFAULT
from jobs.domain.lengths import millimeters
from jobs.domain.rooms.outline import draw_room
from jobs.domain.rooms.typed import TypedRoom, TypedWall
from jobs.models import Client, Company, Doorway, FloorZone, Job, Product, Room, SiteFacts, User
from jobs.readers.rooms import treatment_of
from jobs.services.floors import floors
from jobs.services.jobs import add_job
from jobs.services.openings import doorways, stairs
from jobs.services.people import add_crew
from jobs.services.plans import plan_zone_now
from jobs.services.products import products
from jobs.services.rooms import add_room
from layout.values.units import Unit, parse_length

RUNS = ("max_run", "max_run_width")
LENGTHS = ("length", "width", "thickness", "gap", "saw_kerf", "min_end", "min_offset", "min_row")


def tell(password: str) -> Company:
    """Return the demo company with everything in it, made now."""
    company = Company.objects.create(**story.COMPANY)
    people = {person.email: _person(company, person, password) for person in story.PEOPLE}
    owner = people[story.OWNER.email]
    lead, helper = people[story.LEAD.email], people[story.HELPER.email]
    values = {"name": story.CREW, "hours_per_day": Decimal(8)}
    add_crew(company=company, user=owner, key="demo-crew", values=values, members=[lead, helper])
    today = today_of(company)
    catalog = [_product(company, owner, told, today) for told in story.PRODUCTS]
    _prices(company, owner, today)
    with local_to(company):
        for told in story.JOBS:
            _job(company, owner, told, catalog, today)
    return company


def _person(company: Company, told: story.Person, password: str) -> User:
    return User.objects.create_user(
        told.email,
        password,
        name=told.name,
        role=told.role,
        phone=told.phone,
        company=company,
    )


def _product(company: Company, owner: User, told: dict[str, Any], today: date) -> Product:
    unit = _unit(told["units"])
    values: dict[str, Any] = {
        f"{name}_mm": _mm(told[name], unit) for name in (*LENGTHS, "max_run", "max_run_width")
    }
    plain = ("name", "units", "core", "per_carton", "attached_pad")
    values |= {name: told[name] for name in plain}
    values["carton_weight_kg"] = Decimal(told["carton_weight_kg"])
    values["acclimatise_hours"] = told.get("acclimatise_hours", 0)
    values |= told["sheet"]
    values["rules_source"] = f"Maker's sheet, {told['sheet']['sheet_edition']}"
    values["rule_sources"] = dict.fromkeys(story.OUR_OWN_RULES, DEFAULT)
    product = products.add_product(
        company=company, user=owner, key=f"demo-{told['name']}"[:64], values=values
    )
    _price(company, owner, today, code="cartons", item=product.name, amount=told["price"])
    return product


def _prices(company: Company, owner: User, today: date) -> None:
    for price in STARTING_PRICES:
        _price(company, owner, today, code=price.code, item="", amount=price.amount)


def _price(
    company: Company, owner: User, today: date, *, code: str, item: str, amount: str
) -> None:
    labels = {price.code: (price.label, price.unit) for price in STARTING_PRICES}
    label, unit = labels.get(code, ("Flooring", "carton"))
    values: dict[str, Any] = {
        "code": code,
        "item": item,
        "label": label,
        "unit": unit,
        "kind": "material",
        "amount": Decimal(amount),
        "taxable": True,
        "effective_from": today - timedelta(days=120),
    }
    money.set_price(company=company, user=owner, key=f"demo-{code}-{item}"[:64], values=values)


def _job(
    company: Company, owner: User, told: story.DemoJob, catalog: list[Product], today: date
) -> Job:
    client = Client.objects.create(company=company, **told.client)
    values = {"client": client, "title": told.title, "address": told.address, "units": told.units}
    key = f"demo-{told.title}"[:50]
    job = add_job(company=company, user=owner, key=key, values=values)
    SiteFacts.objects.filter(job=job).update(**told.site)
    rooms = {room.name: _room(job, owner, room) for room in told.rooms}
    for room in told.rooms:
        for doorway in room.doorways:
            _doorway(rooms, rooms[room.name], owner, doorway)
    for stair in told.stairs:
        key = f"demo-{job.pk}-{stair['name']}"
        stairs.add_stair(job=job, user=owner, key=key, values=stair)
    if told.stage == "measured":
        return job
    _zone(job, owner, told.floor, catalog[told.product], list(rooms.values()))
    if told.stage == "quoted":
        quote_job(job, owner, today)
    elif told.stage == "laying":
        tell_laying(job, owner, today)
    elif told.stage == "closed":
        tell_closed(job, owner, today)
    return job


def _room(job: Job, owner: User, told: story.DemoRoom) -> Room:
    walls = tuple(walked_wall(length, turn) for length, turn in told.walls)
    measured = TypedRoom(walls=walls, holes=told.holes)
    return add_room(
        job=job,
        user=owner,
        key=f"demo-{job.pk}-{told.name}",
        treatment=replace(treatment_of(Room()), name=told.name, **told.values),
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


def _doorway(rooms: dict[str, Room], room: Room, owner: User, told: story.DemoDoorway) -> Doorway:
    unit = _unit(room.job.units)
    plain = asdict(told)
    values: dict[str, Any] = {
        name: plain[name]
        for name in ("beyond_floor", "beyond_kind", "kind", "swing", "casings", "doors_off")
    }
    values["wall"] = told.wall - 1
    values |= {f"{name}_mm": _mm(plain[name], unit) for name in ("offset", "width", "depth")}
    for name in ("beyond_high", "clearance"):
        values[f"{name}_mm"] = _mm(plain[name], unit) if plain[name] else None
    if told.beyond:
        values["beyond"] = rooms[told.beyond]
        values["beyond_wall"] = told.beyond_wall - 1
        values["beyond_offset_mm"] = _mm(told.beyond_offset, unit)
    return doorways.add_doorway(
        room=room, user=owner, key=f"demo-{room.pk}-{told.wall}", values=values
    )


def _zone(job: Job, owner: User, name: str, product: Product, rooms: list[Room]) -> FloorZone:
    values = {"name": name, "product": product, "direction_deg": Decimal(0)}
    values["pad"] = not product.attached_pad
    zone = floors.add_zone(
        job=job, user=owner, key=f"demo-{job.pk}-floor", values=values, rooms=rooms
    )
    plan_zone_now(zone, user=owner)
    return zone


def _unit(units: str) -> Unit:
    return Unit("mm" if units == "metric" else "in")


def _mm(text: str, unit: Unit) -> Decimal:
    return millimeters(parse_length(text, bare=unit).mm)
