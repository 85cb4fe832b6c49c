"""Packets: asked for once, printed by the worker, numbered and frozen."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from django.template.loader import render_to_string

from jobs.clock import day_of, today_of
from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json, digest
from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.formats import BrokenDocumentError, Fields
from jobs.domain.load_list import load_list
from jobs.domain.packet.content import PACKET, caution_content, packet_content, packet_from
from jobs.domain.packet.day import DayTask, PacketDay
from jobs.domain.packet.floor import PacketFloor, floor_content
from jobs.domain.plans.older import OlderPlanError
from jobs.models import (
    Errand,
    Job,
    Packet,
    Product,
    Scope,
    User,
    WorkDay,
)
from jobs.pdf import render_pdf
from jobs.readers.current_plan.floors import CurrentFloor, current_floors, current_floors_of
from jobs.readers.days import open_holds_of, task_lines
from jobs.readers.openings.edges import packet_edges
from jobs.readers.scope import scope_value
from jobs.readers.site import cautions_of
from jobs.readers.stored_packet import stored_packet
from jobs.services.files import store_file
from jobs.services.records import audit_job, freeze, next_number
from jobs.worker.errands import ask, latest

KIND = "print-packet"
BLANK_LINES = 14


@dataclass(frozen=True, kw_only=True, slots=True)
class PrintedPacket:
    """A packet that is ready to be kept: content with number and date, its inputs, the PDF."""

    number: int
    content: Fields
    inputs_sha256: str
    pdf: bytes


def subject_of(job: Job) -> str:
    """Return how errands name a job."""
    return f"job:{job.pk}"


def ask_for_packet(*, job: Job, user: User) -> Errand:
    """Return the errand that prints the packet of ``job``; asked twice at once, it is one errand.

    Raises:
        BadValueError: there is no agreed scope, or nothing is laid onto days yet.
        OlderPlanError: something is new to say, and a floor's plan was made by older rules.
    """
    _check(job)
    if any(floor.of_older_rules for floor in current_floors(job)):
        _new_content(job)
    payload = {"job": job.pk}
    return ask(company=job.company, kind=KIND, subject=subject_of(job), payload=payload, user=user)


def errand_of(job: Job) -> Errand | None:
    """Return the newest errand that prints a packet of ``job``, whatever its state."""
    return latest(company=job.company, kind=KIND, subject=subject_of(job))


def _check(job: Job) -> Scope:
    if job.agreed_scope is None:
        accepted = "an accepted quote: its scope is what the crew works from"
        raise BadValueError(field="agreed scope", value="none", accepted=accepted)
    if not job.days.exists() and scope_value(job.agreed_scope).has_crew:
        accepted = "days: lay the work onto days of a crew first"
        raise BadValueError(field="days", value="none", accepted=accepted)
    return job.agreed_scope


def print_packet(job: Job) -> PrintedPacket | None:
    """Return the packet of ``job`` as things stand, printed; None where the newest says the same.

    Raises BadValueError as `ask_for_packet` does, and for a floor whose plan is gone.
    """
    content = _new_content(job)
    if content is None:
        return None
    inputs = digest(canonical_json(content))
    number = next_number(job.packets.all())
    content |= {"number": number, "issued_on": today_of(job.company).isoformat()}
    pdf = packet_pdf(content, paper=job.company.paper)
    return PrintedPacket(number=number, content=content, inputs_sha256=inputs, pdf=pdf)


def _new_content(job: Job) -> Fields | None:
    """Return the content of a packet as things stand; None where the newest says the same.

    Floors whose plan was made by older rules are as the newest packet has them. Raises as
    `print_packet` does, OlderPlanError where such a floor would be printed anew.
    """
    newest = job.packets.select_related("document").first()
    issued = _issued(newest)
    content = _stored(gather(job, issued=issued.get("floors", ())))
    same = content | _of_issue(issued) if issued else {}
    if issued and packet_from(PACKET.read(canonical_json(same))) == issued:
        return None
    _refuse_older(job)
    return content


def _issued(packet: Packet | None) -> Fields:
    """Return what a packet says; nothing where there is none or it can't be read."""
    try:
        return stored_packet(packet) if packet else {}
    except BrokenDocumentError:
        return {}


def _of_issue(packet: Fields) -> Fields:
    """Return what a packet has from the moment it was issued."""
    return {name: packet[name] for name in ("number", "issued_on")}


def _refuse_older(job: Job) -> None:
    """Refuse a floor whose plan was made by older rules, unless it is being laid by it."""
    for floor in current_floors(job):
        begun = floor.row is not None and floor.row.going_on
        if not begun and floor.of_older_rules:
            raise OlderPlanError(floor.name)


def keep_packet(*, job: Job, printed: PrintedPacket, user: User | None) -> Packet:
    """Return the packet stored, content and PDF frozen; call it inside a transaction.

    Raises:
        BadValueError: another packet took its number meanwhile.
    """
    locked = Job.objects.select_for_update(of=("self",))
    job = locked.select_related("company").get(pk=job.pk)
    if next_number(job.packets.all()) != printed.number:
        accepted = "a packet printed again: another one was issued meanwhile"
        raise BadValueError(field="packet", value=printed.number, accepted=accepted)
    document = freeze(
        company=job.company,
        kind="packet",
        content=printed.content,
        user=user,
        inputs=printed.inputs_sha256,
    )
    pdf = store_file(
        company=job.company,
        content=printed.pdf,
        name=f"packet-{job.number}-{printed.number}.pdf",
        content_type="application/pdf",
    )
    packet = Packet.objects.create(job=job, number=printed.number, document=document, pdf=pdf)
    act = f"Printed packet {packet.number}"
    audit_job(job=job, user=user, act=act)
    return packet


def packet_pdf(content: Fields, *, paper: str) -> bytes:
    """Return the packet as a tagged PDF, made from its frozen content alone."""
    context = {
        "packet": packet_from(content),
        "paper": paper,
        "company_name": content["company"]["name"],
        "job_number": content["job"]["number"],
        "issue": f"Packet {content['number']}",
        "title": f"Job packet {content['number']}: {content['job']['title']}",
        "blank_lines": range(BLANK_LINES),
    }
    return render_pdf(html=render_to_string("jobs/packets/print.html", context))


def gather(job: Job, *, issued: Iterable[Fields] = ()) -> Fields:
    """Return the content of a packet as things stand, without number and date of issue.

    Where the homeowner does all the work it is the plan and the cut sheet: no loads, no days, no
    doorways and trim for the crew.

    ``issued``: floors of an earlier packet, which a plan made by older rules is printed from.
    Raises OlderPlanError where such a floor is not among them.
    """
    scope_row = _check(job)
    scope = scope_value(scope_row)
    company, client = job.company, job.client
    site = getattr(job, "site", None)
    known = {floor["plan_sha256"]: floor for floor in issued}
    laid_by = current_floors_of(job, scope.zones)
    floors = [_floor(floor, place, known) for place, floor in enumerate(laid_by, start=1)]
    days = job.days.select_related("crew", "job")
    return packet_content(
        job={"number": job.number, "title": job.title, "address": job.address},
        client={"name": client.name, "phone": client.phone},
        company={"name": company.name, "phone": company.phone},
        access=site.access if site else "",
        scope={"number": scope_row.number, "sha256": scope_row.document.sha256},
        cautions=caution_content(cautions_of(job), _clearances(job)),
        loads=load_list(scope.quantities, floors) if scope.has_crew else [],
        floors=floors,
        days=[_day(day) for day in days.order_by("date")] if scope.has_crew else [],
        edges=packet_edges(job) if scope.has_crew else {},
    )


def _clearances(job: Job) -> dict[str, dict[str, str]]:
    return {
        line.code: {
            "by": line.by,
            "note": line.note,
            "on": day_of(line.at, job.company).isoformat(),
        }
        for line in job.clearances.all()
    }


def _floor(floor: CurrentFloor, place: int, known: Mapping[str, Fields]) -> Fields:
    """Return a floor from the very plan that it is laid by."""
    if floor.of_older_rules:
        if floor.document.sha256 not in known:
            raise OlderPlanError(floor.name)
        return known[floor.document.sha256]
    stored = floor.stored()
    content = PacketFloor(
        name=floor.name,
        product=floor.product,
        lock=floor.row.product.lock if floor.row else "",
        number=floor.number,
        sha256=floor.document.sha256,
        request=stored.request,
        plan=stored.plan,
        card=joining_card(floor.row.product) if floor.row else (),
    )
    return floor_content(content, place)


def joining_card(product: Product) -> tuple[str, ...]:
    """Return what the product's sheet says of joining, each sentence with its source."""
    said = []
    if product.tilt_deg is not None:
        said.append((f"Tilt {product.tilt_deg.normalize():f}°", "tilt_deg"))
    if product.tapping:
        said.append((str(product.get_tapping_display()), "tapping"))
    return tuple(f"{words} ({rule_source(product, field)})." for words, field in said)


def _day(day: WorkDay) -> PacketDay:
    lines = task_lines(day, open_holds_of(day.job))
    return PacketDay(
        number=day.number,
        date=day.date,
        crew=day.crew.name,
        people=tuple(f"{one.name}, {one.phone}" if one.phone else one.name for one in _crew(day)),
        hours=day.hours,
        tasks=tuple(
            DayTask(
                code=line.task,
                name=line.name,
                hours=line.hours,
                rows=line.rows_words,
                begins=line.rows is not None and line.rows[0] == 1,
                helper=line.helper,
                holds=line.open_holds,
            )
            for line in lines
        ),
        notes=tuple(day.notes),
    )


def _crew(day: WorkDay) -> list[User]:
    return list(day.crew.members.all())


def _stored(content: Fields) -> Fields:
    """Return content as it reads once it was frozen."""
    stored: Fields = json.loads(canonical_json(content))
    return stored


def effect_of(errand: Errand, job: Job) -> Callable[[], dict[str, object]]:
    """Print the packet of ``job``; return what keeps it together with the errand's end."""
    printed = print_packet(job)

    def keep() -> dict[str, object]:
        if printed is None:
            newest = job.packets.first()
            return {"packet": newest.pk if newest else None, "new": False}
        return {
            "packet": keep_packet(job=job, printed=printed, user=errand.asked_by).pk,
            "new": True,
        }

    return keep
