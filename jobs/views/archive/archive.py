"""Jobs archived and brought back; jobs, clients and products removed; what was removed."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import (
    SignedInRequest,
    company_of,
    office,
    removal_for,
    signed_in,
    writable_client_for,
    writable_job_for,
    writable_product_for,
)
from jobs.domain.checks import BadValueError, as_sentence
from jobs.http import go_to, render_page
from jobs.models import Job, Removal, RemovedKind, RoomNote
from jobs.services.archive import archive
from jobs.views.edit_page import confirm_page, edits, say_done
from jobs.views.list_page import page_of

_PAGES: dict[str, str] = {
    RemovedKind.JOB: "job",
    RemovedKind.ROOM: "room-edit",
    RemovedKind.FLOOR: "zone",
    RemovedKind.DOORWAY: "doorway-edit",
    RemovedKind.STAIR: "stair-edit",
    RemovedKind.CLIENT: "client-edit",
    RemovedKind.PRODUCT: "product-edit",
}


@require_POST
@signed_in
def job_archive(request: SignedInRequest, pk: int) -> HttpResponse:
    """Put a job away: it stands in no list from now on."""
    job = writable_job_for(request, pk)
    archive.archive_job(job=job, user=request.user)
    done = f"Job {job.number} is archived. Searching finds it."
    say_done(request, done, undo=reverse("job-unarchive", args=[pk]))
    return go_to(request, "job-list")


@require_POST
@signed_in
def job_unarchive(request: SignedInRequest, pk: int) -> HttpResponse:
    """Put a job back into the lists."""
    job = writable_job_for(request, pk)
    archive.unarchive_job(job=job, user=request.user)
    say_done(request, f"Job {job.number} is in the lists again.")
    return go_to(request, "job", pk)


@edits
@signed_in
def job_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove a job from which nothing was issued, after asking; else offer to archive it."""
    job = writable_job_for(request, pk)
    kept = archive.kept_for_good(job)
    if kept and request.method != "POST":
        return _only_archived(request, job, kept)
    rooms, floors = job.rooms.count(), job.zones.count()
    going = f"{rooms} room{'' if rooms == 1 else 's'}, {floors} floor{'' if floors == 1 else 's'}"
    return confirm_page(
        request,
        title=f"Remove job {job.number}, {job.title}",
        sentence="It can be brought back as it was: at once, or later from what was removed.",
        consequences=[f"{going} and the site facts go with it."],
        action="Remove the job",
        write=lambda: archive.remove_job(job=job, user=request.user),
        done=f"Job {job.number} is removed.",
        to=reverse("job-list"),
        back=reverse("job", args=[pk]),
    )


def _only_archived(request: SignedInRequest, job: Job, kept: tuple[str, ...]) -> HttpResponse:
    """Return the page that says why a job stays, and offers to archive it instead."""
    context = {
        "title": f"Remove job {job.number}, {job.title}",
        "sentence": f"It stays in the book: it has {', '.join(kept)}, and these are kept for good. "
        "Archived, it stands in no list; searching finds it.",
        "action": "Archive the job",
        "action_url": reverse("job-archive", args=[job.pk]),
        "back_url": reverse("job", args=[job.pk]),
    }
    return render_page(request, "parts/confirm.html", context)


@edits
@office
def client_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove a client who has no job, after asking."""
    client = writable_client_for(request, pk)
    return confirm_page(
        request,
        title=f"Remove the client {client.name}",
        sentence="A client who has a job stays. One without can be brought back as it was.",
        action="Remove the client",
        write=lambda: archive.remove_client(client=client, user=request.user),
        done=f"{client.name} is removed.",
        to=reverse("client-list"),
        back=reverse("client-edit", args=[pk]),
    )


@edits
@office
def product_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove a product that no floor has, after asking."""
    product = writable_product_for(request, pk)
    return confirm_page(
        request,
        title=f"Remove the product {product.name}",
        sentence="A product of a floor or a stair stays; retire it, and it is offered no more. "
        "One that nothing is laid with can be brought back as it was.",
        action="Remove the product",
        write=lambda: archive.remove_product(product=product, user=request.user),
        done=f"{product.name} is removed.",
        to=reverse("product-list"),
        back=reverse("product-edit", args=[pk]),
    )


@require_safe
@office
def removed_list(request: SignedInRequest) -> HttpResponse:
    """What was removed and is not back, newest first."""
    removals = Removal.objects.filter(company=company_of(request), restored_at=None)
    page = page_of(request, removals.select_related("user").defer("rows", "links"))
    return render_page(request, "jobs/archive/removed.html", {"page_obj": page})


@require_POST
@office
def removed_restore(request: SignedInRequest, pk: int) -> HttpResponse:
    """Bring back what was removed, and lead to it."""
    removal = removal_for(request, pk)
    try:
        back = archive.bring_back(removal=removal, user=request.user)
    except BadValueError as refused:
        messages.error(request, as_sentence(refused))
        return go_to(request, "removed-list")
    say_done(request, f"{back.label} is back.")
    return go_to(request, _page_of_thing(back))


def _page_of_thing(removal: Removal) -> str:
    """Return the address of a thing that is back; of a note, that of its room's notes."""
    if removal.kind == RemovedKind.NOTE:
        room = RoomNote.objects.filter(pk=removal.row).values_list("room", flat=True).first()
        return reverse("room-notes", args=[room]) if room else reverse("removed-list")
    return reverse(_PAGES[removal.kind], args=[removal.row])
