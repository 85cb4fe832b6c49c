"""The content of a packet as things stand, by the plans that are laid now."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from jobs.domain.checks import BadValueError
from jobs.domain.floors.rule_sources import rule_source
from jobs.domain.formats import Fields
from jobs.domain.lengths import length_words
from jobs.domain.load_list import load_list
from jobs.domain.packet.content import caution_content, packet_content
from jobs.domain.packet.floor import PacketFloor, floor_content
from jobs.domain.packet.goods import phases_content
from jobs.domain.packet.packing import FEW
from jobs.domain.packet.words.site import under_words
from jobs.domain.plans.older import OlderPlanError
from jobs.domain.scope.scope import FrozenScope
from jobs.models import FloorZone, Job, Product, Scope
from jobs.readers.current_plan.floors import CurrentFloor, current_floors_of
from jobs.readers.openings.edges import packet_edges
from jobs.readers.packets.cover import cover_of, gates_of
from jobs.readers.packets.days import days_of
from jobs.readers.packets.landmarks import landmarks_of
from jobs.readers.packets.pooled import pooled_spares, read_as_one
from jobs.readers.scope import scope_value
from jobs.readers.site import cautions_of
from layout.drawing.floor.landmarks import Landmark


def scope_of_packet(job: Job) -> Scope:
    """Return the scope that a packet is made from.

    Raises BadValueError where nothing is agreed on, or nothing is laid onto days yet.
    """
    if job.agreed_scope is None:
        accepted = "an accepted quote: its scope is what the crew works from"
        raise BadValueError(field="agreed scope", value="none", accepted=accepted)
    if not job.days.exists() and scope_value(job.agreed_scope).has_crew:
        accepted = "days: plan the days with a crew first"
        raise BadValueError(field="days", value="none", accepted=accepted)
    return job.agreed_scope


def gather(job: Job, *, issued: Iterable[Fields] = (), with_access: bool = False) -> Fields:
    """Return the content of a packet as things stand, without number and date of issue.

    Where the homeowner does all the work it is the plan and the cut sheet: no loads, no days, no
    doorways and trim for the crew.

    ``issued``: floors of an earlier packet, which a plan made by older rules is printed from.
    Raises as `scope_of_packet`, and OlderPlanError where such a floor is not among them.
    """
    scope_row = scope_of_packet(job)
    scope = scope_value(scope_row)
    known = {floor["plan_sha256"]: floor for floor in issued}
    laid_by = current_floors_of(job, scope.zones)
    rows = [floor.row for floor in laid_by if floor.row is not None]
    landmarks = landmarks_of(rows)
    floors = [
        _floor(
            floor,
            place,
            known,
            landmarks.get(floor.row.pk, ()) if floor.row else (),
            tuple(task.code for task in scope.tasks if task.zone == floor.name),
            roomy=len(laid_by) <= FEW,
        )
        for place, floor in enumerate(laid_by, start=1)
    ]
    kept = {floor.document.sha256 for floor in laid_by if floor.of_older_rules}
    read_as_one(floors, pooled_spares(scope.quantities, laid_by, floors), issued=kept)
    company, client, cautions = job.company, job.client, cautions_of(job)
    gates = gates_of(job, cautions, scope)
    return packet_content(
        job={"number": job.number, "title": job.title, "address": job.address},
        client={"name": client.name, "phone": client.phone},
        company={"name": company.name, "phone": company.phone},
        scope={"number": scope_row.number, "sha256": scope_row.document.sha256},
        cover=cover_of(job, scope, with_access=with_access),
        gates=gates,
        cautions=caution_content(cautions),
        phases=_phases(scope, floors),
        floors=floors,
        days=days_of(job, laid_by, cautions, gates=gates) if scope.has_crew else [],
        edges=packet_edges(job) if scope.has_crew else {},
    )


def _phases(scope: FrozenScope, floors: Sequence[Fields]) -> list[Fields]:
    """Return what goes on the truck; nothing where the crew does no work."""
    if not scope.has_crew:
        return []
    codes = {task.code for task in scope.tasks} - set(scope.left)
    return phases_content(load_list(scope.quantities, floors), codes, readings="lay" in codes)


def _floor(
    floor: CurrentFloor,
    place: int,
    known: Mapping[str, Fields],
    landmarks: tuple[Landmark, ...],
    tasks: tuple[str, ...],
    *,
    roomy: bool,
) -> Fields:
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
        under=_under(floor.row) if floor.row else "",
        roomy=roomy,
        landmarks=landmarks,
        tasks=tasks,
    )
    return floor_content(content, place)


def _under(zone: FloorZone) -> str:
    product = zone.product
    return under_words(
        thick=length_words(product.thickness_mm, zone.job.units),
        attached=product.attached_pad,
        pad=zone.pad,
        barrier=zone.barrier,
    )


def joining_card(product: Product) -> tuple[str, ...]:
    """Return what the product's sheet says of joining, each sentence with its source."""
    said = []
    if product.tilt_deg is not None:
        said.append((f"Tilt {product.tilt_deg.normalize():f}°", "tilt_deg"))
    if product.tapping:
        said.append((str(product.get_tapping_display()), "tapping"))
    return tuple(f"{words} ({rule_source(product, field)})." for words, field in said)
