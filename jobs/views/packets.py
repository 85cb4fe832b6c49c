"""Packets of a job: asked for, printed by the worker, kept to be read. No prices here."""

from __future__ import annotations

import json
import re

from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import SignedInRequest, job_for, office, packet_for, signed_in, writable_job_for
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.domain.plans.older import OlderPlanError
from jobs.http import Context, go_to, render_page, wants_part
from jobs.models import Errand, Job, Packet
from jobs.readers.packets.standing import packet_standing
from jobs.readers.path import path_context
from jobs.readers.rooms import notes_offered
from jobs.readers.scope import agreed_scope_of
from jobs.services.files import serve
from jobs.services.packets import ask_for_packet, errand_of, stop_printing
from jobs.worker.errands import worker_is_running

_WAY_IN = re.compile(r'"access":"[^"]')
"""What the text of a packet has where it tells the way in; elsewhere null or nothing is there."""


@require_safe
@signed_in
def packet_list(request: SignedInRequest, pk: int) -> HttpResponse:
    """The packets of a job, newest first, and the printing that is under way."""
    return _page(request, job_for(request, pk))


@require_POST
@office
def packet_print(request: SignedInRequest, pk: int) -> HttpResponse:
    """Ask for the packet as things stand; with the way in only where that was ticked."""
    job = writable_job_for(request, pk)
    with_access = request.POST.get("access") == "on"
    try:
        ask_for_packet(job=job, user=request.user, with_access=with_access)
    except OlderPlanError as older:
        return _page(request, job, refused=as_sentence(older), older=older.floor, status=409)
    except BadValueError as refused:
        return _page(request, job, refused=str(refused), status=422)
    return go_to(request, "packet-list", job.pk)


@require_POST
@office
def packet_stop(request: SignedInRequest, pk: int) -> HttpResponse:
    """Drop the printing that is under way; the packets that are there stay."""
    job = writable_job_for(request, pk)
    stop_printing(job=job)
    return go_to(request, "packet-list", job.pk)


@require_safe
@signed_in
def packet_progress(request: SignedInRequest, pk: int) -> HttpResponse:
    """How far the printing is; once it has ended, the page of the packets."""
    job = job_for(request, pk)
    errand = errand_of(job)
    if errand is None or not errand.is_active or not wants_part(request):
        return go_to(request, "packet-list", job.pk)
    context = {"job": job, "errand": errand, "worker": worker_is_running()}
    return render_page(request, "jobs/packets/packets.html", context, part="progress")


@require_safe
@signed_in
def packet_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """A packet as it was issued."""
    return serve(_opened(request, pk).pdf)  # type: ignore[return-value]


@require_safe
@signed_in
def packet_changed(request: SignedInRequest, pk: int) -> HttpResponse:
    """Only the sheets of a packet that differ from the one before it; the whole where all do."""
    packet = _opened(request, pk)
    return serve(packet.changed_pdf or packet.pdf)  # type: ignore[return-value]


def _opened(request: SignedInRequest, pk: int) -> Packet:
    """Return a packet; one that tells the way in only while a crew of the person has days there.

    Raises PermissionDenied once these days are over.
    """
    packet = packet_for(request, pk)
    tells_way_in = _WAY_IN.search(packet.document.text) is not None
    if not tells_way_in or request.user.is_office:
        return packet
    mine = packet.job.days.filter(crew__members=request.user)
    if not mine.filter(date__gte=today_of(packet.job.company)).exists():
        message = "This packet tells the way in, and the days of your crew there are over."
        raise PermissionDenied(message)
    return packet


def _page(
    request: SignedInRequest, job: Job, *, refused: str = "", older: str = "", status: int = 200
) -> HttpResponse:
    """Return the page of the packets; ``older`` names a floor to be planned again."""
    packets = list(job.packets.select_related("document__made_by", "pdf", "changed_pdf"))
    errand = errand_of(job)
    agreed = agreed_scope_of(job)
    context: Context = path_context(request, job, "Packet") | {
        "packets": packets,
        "errand": errand,
        "active": errand is not None and errand.is_active,
        "unchanged": _unchanged(errand),
        "standing": packet_standing(job),
        "made": _result(errand) if errand else {},
        "worker": worker_is_running(),
        "refused": refused,
        "older": job.zones.filter(name=older).first() if older else None,
        "agreed": job.agreed_scope,
        "days": job.days.count(),
        "no_crew": agreed is not None and not agreed.has_crew,
        "notes": notes_offered(job, to="packet"),
    }
    return render_page(request, "jobs/packets/packets.html", context, status=status)


def _unchanged(errand: Errand | None) -> bool:
    """Whether the last printing found nothing new to say."""
    return errand is not None and _result(errand).get("new") is False


def _result(errand: Errand) -> Context:
    """Return what the last printing ended with; nothing while it runs or where it failed."""
    if errand.state != Errand.State.DONE or not errand.result:
        return {}
    result: Context = json.loads(errand.result)
    return result
