"""Packets: asked for once, printed by the worker, numbered and frozen."""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from io import BytesIO

from django.template.loader import render_to_string
from pypdf import PdfReader

from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json, digest
from jobs.domain.formats import BrokenDocumentError, Fields
from jobs.domain.packet.basis import changes_since, pages_changed
from jobs.domain.packet.content import PACKET, packet_from
from jobs.domain.packet.packing import packed
from jobs.domain.plans.older import OlderPlanError
from jobs.models import Errand, Job, Packet, StoredFile, User
from jobs.pdf import render_pdf
from jobs.readers.current_plan.floors import current_floors
from jobs.readers.packets.basis import bases_of
from jobs.readers.packets.gather import gather, scope_of_packet
from jobs.readers.packets.standing import basis_of
from jobs.readers.stored_packet import stored_packet
from jobs.services.files import store_file
from jobs.services.records import audit_job, freeze, next_number
from jobs.worker.errands import ask_anew, cancel, latest

KIND = "print-packet"
LINES_A_DAY, MOST_LINES = 3, 14
"""Lines of the blank log, for each day and at most."""
LOOKS = 3
"""How often a job is read again that was changed while it was read."""
Tell = Callable[[float, str], None]
"""Hears how far the printing is, 0 to 1, and in words."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PrintedPacket:
    """A packet that is ready to be kept: content with number and date, its inputs, the PDF.

    ``basis``: what it was made from in short. ``changed``: only the sheets that differ from the
    packet before; empty where there is none.
    """

    number: int
    content: Fields
    inputs_sha256: str
    pdf: bytes
    basis: Fields
    changed: bytes = b""


def subject_of(job: Job) -> str:
    """Return how errands name a job."""
    return f"job:{job.pk}"


def ask_for_packet(*, job: Job, user: User, with_access: bool = False) -> Errand:
    """Return the errand that prints the packet of ``job``; asked twice at once, it is one errand.

    ``with_access``: print how to get in, which stays off loose paper unless somebody wishes it.

    Raises:
        BadValueError: there is no agreed scope, or nothing is laid onto days yet.
        OlderPlanError: something is new to say, and a floor's plan was made by older rules.
    """
    scope_of_packet(job)
    if any(floor.of_older_rules for floor in current_floors(job)):
        _new_content(job, with_access=with_access)
    payload = {"job": job.pk, "access": with_access}
    subject = subject_of(job)
    return ask_anew(company=job.company, kind=KIND, subject=subject, payload=payload, user=user)


def errand_of(job: Job) -> Errand | None:
    """Return the newest errand that prints a packet of ``job``, whatever its state."""
    return latest(company=job.company, kind=KIND, subject=subject_of(job))


def stop_printing(*, job: Job) -> bool:
    """Whether a packet was being printed; it is dropped now, and nothing of it is kept."""
    errand = errand_of(job)
    return errand is not None and cancel(errand)


def _quiet(share: float, words: str) -> None:
    """Tell nobody."""


def print_packet(
    job: Job, *, with_access: bool = False, tell: Tell = _quiet
) -> PrintedPacket | None:
    """Return the packet of ``job`` as things stand, printed; None where the newest says the same.

    Raises BadValueError as `ask_for_packet` does, for a floor whose plan is gone, and for a job
    that is changed again and again while it is read.
    """
    tell(0.05, "Drawing the floors")
    basis, contents = _settled(job, with_access=with_access)
    if contents is None:
        return None
    content, issued = contents
    inputs = digest(canonical_json(content))
    number = next_number(job.packets.all())
    content |= {"number": number, "issued_on": today_of(job.company).isoformat()}
    if issued:
        content["changed"] = _changed(job, issued, content, basis)
    tell(0.4, f"Setting the sheets of {_floors_words(content)}")
    pdf = packet_pdf(content, paper=job.company.paper)
    changed = b""
    if issued:
        tell(0.85, "Setting the changed sheets")
        parts = content["changed"]["parts"]
        changed = packet_pdf(content, paper=job.company.paper, only=parts)
    return PrintedPacket(
        number=number, content=content, inputs_sha256=inputs, pdf=pdf, basis=basis, changed=changed
    )


def _floors_words(content: Fields) -> str:
    count = len(content["floors"])
    return f"{count} floor{'s' * (count != 1)}"


def _settled(job: Job, *, with_access: bool) -> tuple[Fields, tuple[Fields, Fields] | None]:
    """Return what a packet is made from, and content and packet before it, read at one moment.

    What changes while it is read is read again.
    """
    for _ in range(LOOKS):
        before = _basis(job, with_access=with_access)
        contents = _new_content(job, with_access=with_access)
        if _basis(job, with_access=with_access) == before:
            return before, contents
        job = Job.objects.select_related("company", "client", "agreed_scope__document").get(
            pk=job.pk
        )
    accepted = "a job that stands still for a minute; ask for the packet again"
    raise BadValueError(field="job", value="changed while it was printed", accepted=accepted)


def _basis(job: Job, *, with_access: bool) -> Fields:
    """Return what a packet of a job is made from; the way in only where it is printed."""
    fresh = Job.objects.select_related("client").get(pk=job.pk)
    basis = bases_of([fresh]).get(job.pk, {})
    return basis if with_access else {name: basis[name] for name in basis if name != "access"}


def _new_content(job: Job, *, with_access: bool) -> tuple[Fields, Fields] | None:
    """Return the content of a packet as things stand, and the newest packet before it.

    None where that one says the same. Floors whose plan was made by older rules are as the newest
    packet has them. Raises as `print_packet` does, OlderPlanError where such a floor would be
    printed anew.
    """
    newest = job.packets.select_related("document").first()
    issued = _issued(newest)
    floors: Iterable[Fields] = issued.get("floors", ())
    content = _stored(gather(job, issued=floors, with_access=with_access))
    if issued:
        same = content | {name: issued[name] for name in ("number", "issued_on", "changed")}
        if packet_from(PACKET.read(canonical_json(same))) == issued:
            return None
    _refuse_older(job)
    return content, issued


def _issued(packet: Packet | None) -> Fields:
    """Return what a packet says; nothing where there is none or it can't be read."""
    try:
        return stored_packet(packet) if packet else {}
    except BrokenDocumentError:
        return {}


def _changed(job: Job, issued: Fields, content: Fields, basis: Fields) -> Fields:
    """Return what a packet says otherwise than the one before it: sentences, and its sheets."""
    before = job.packets.select_related("document").first()
    said = changes_since(basis_of(before), basis) if before else []
    now = packet_from(PACKET.read(canonical_json(content)))
    return {
        "since": issued["number"],
        "said": said or ["Words or drawings of the sheets named here."],
        "parts": pages_changed(issued, now),
    }


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
    packet = Packet.objects.create(
        job=job,
        number=printed.number,
        document=document,
        pdf=_file(job, printed.pdf, f"packet-{job.number}-{printed.number}.pdf"),
        changed_pdf=_file(job, printed.changed, f"packet-{job.number}-{printed.number}-changed.pdf")
        if printed.changed
        else None,
        basis=printed.basis,
    )
    audit_job(job=job, user=user, act=f"Printed packet {packet.number}")
    return packet


def _file(job: Job, content: bytes, name: str) -> StoredFile:
    return store_file(
        company=job.company, content=content, name=name, content_type="application/pdf"
    )


def packet_pdf(content: Fields, *, paper: str, only: Collection[str] = ()) -> bytes:
    """Return the packet as a tagged PDF, made from its frozen content alone.

    ``only``: the parts that are printed; empty: all of them.
    """
    issue = f"Packet {content['number']}"
    context = {
        "packet": packet_from(content),
        "paper": paper,
        "company_name": content["company"]["name"],
        "job_number": content["job"]["number"],
        "issue": f"{issue}, changed sheets" if only else issue,
        "title": f"Job packet {content['number']}: {content['job']['title']}",
        "blank_lines": _blank_lines(content),
        "packing": packed(content["floors"], apart=bool(only)),
        "only": list(only),
    }
    return render_pdf(html=render_to_string("jobs/packets/print.html", context))


def _blank_lines(content: Fields) -> list[range]:
    """Return the lines of the blank log; two tables beside each other where it lies."""
    count = min(MOST_LINES, LINES_A_DAY * len(content["days"]))
    stands = not packed(content["floors"]).many
    return [range(count)] if stands else [range(count - count // 2), range(count // 2)]


def _stored(content: Fields) -> Fields:
    """Return content as it reads once it was frozen."""
    stored: Fields = json.loads(canonical_json(content))
    return stored


def effect_of(
    errand: Errand, job: Job, *, with_access: bool, tell: Tell
) -> Callable[[], dict[str, object]]:
    """Print the packet of ``job``; return what keeps it together with the errand's end."""
    began = time.monotonic()
    printed = print_packet(job, with_access=with_access, tell=tell)
    seconds = round(time.monotonic() - began)

    def keep() -> dict[str, object]:
        if printed is None:
            newest = job.packets.first()
            return {"packet": newest.pk if newest else None, "new": False}
        packet = keep_packet(job=job, printed=printed, user=errand.asked_by)
        sheets = len(PdfReader(BytesIO(printed.pdf)).pages)
        return {"packet": packet.pk, "new": True, "seconds": seconds, "sheets": sheets}

    return keep
