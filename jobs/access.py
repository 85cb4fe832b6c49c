"""Who may see and change what. Fetching a row through this module is the permission check.

Strangers (no sign-in, another company, another crew's job) get 404: they don't learn that the row
exists. People who may read a row but not change it get 403.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, TypeVar

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.db.models import Model, QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from jobs.clock import today_of
from jobs.domain.link_token import token_hash
from jobs.models import (
    CalendarFeed,
    Callback,
    Client,
    Company,
    Crew,
    DaysChange,
    Doorway,
    FloorPlan,
    FloorZone,
    Job,
    JobExtra,
    KeptConflict,
    LeftoverStock,
    LogEntry,
    LogPhoto,
    Mail,
    Packet,
    Product,
    Removal,
    Room,
    RoomNote,
    StairFlight,
    SuppliedMaterial,
    SuppliedReceipt,
    TrimRun,
    User,
    WorkDay,
)

if TYPE_CHECKING:
    from django_htmx.middleware import HtmxDetails

M = TypeVar("M", bound=Model)


class SignedInRequest(HttpRequest):
    """A request of a signed-in person who belongs to a company."""

    user: User
    htmx: HtmxDetails


View = Callable[..., HttpResponse]


def signed_in(view: View) -> View:
    """Let only people with a company in; others are sent to sign in, or refused."""
    return _gate(view, lambda user: True, "")


def office(view: View) -> View:
    """Let only owners and estimators in; a crew member gets 403."""
    refusal = "Prices and office pages are for the owner and the estimators."
    return _gate(view, lambda user: user.is_office, refusal)


def owner(view: View) -> View:
    """Let only owners in; everybody else gets 403."""
    return _gate(view, lambda user: user.is_owner, "This page is for the owner.")


def _gate(view: View, admits: Callable[[User], bool], refusal: str) -> View:
    """Return ``view`` behind sign-in, a company, and the given test."""

    @login_required
    @wraps(view)
    def wrapped(request: SignedInRequest, *args: object, **kwargs: object) -> HttpResponse:
        if request.user.company_id is None:
            raise PermissionDenied("This account belongs to no company.")
        if not admits(request.user):
            raise PermissionDenied(refusal)
        return view(request, *args, **kwargs)

    return wrapped


def company_of(request: SignedInRequest) -> Company:
    """Return the company of the signed-in person."""
    company = request.user.company
    if company is None:
        raise Http404
    return company


def jobs_for(request: SignedInRequest) -> QuerySet[Job]:
    """Return the jobs this person may see: the office all, a crew member those of own crews."""
    jobs = Job.objects.filter(company=company_of(request)).select_related("client", "company")
    if request.user.is_office:
        return jobs
    return jobs.filter(days__crew__members=request.user).distinct()


def days_for(request: SignedInRequest) -> QuerySet[WorkDay]:
    """Return the work days this person may see: the office all, a crew member own crews' days."""
    days = WorkDay.objects.filter(job__company=company_of(request)).select_related("job", "crew")
    if request.user.is_office:
        return days
    return days.filter(crew__members=request.user).distinct()


def crews_for(request: SignedInRequest) -> QuerySet[Crew]:
    """Return the crews this person may see: the office all, a crew member own ones."""
    crews = Crew.objects.filter(company=company_of(request)).prefetch_related("members")
    if request.user.is_office:
        return crews
    return crews.filter(members=request.user).distinct()


def crew_for(request: SignedInRequest, pk: int) -> Crew:
    """Return a crew whose days this person may see. Raises Http404 for any other."""
    return get_object_or_404(crews_for(request), pk=pk)


def job_for(request: SignedInRequest, pk: int) -> Job:
    """Return a job this person may see. Raises Http404 for any other."""
    return get_object_or_404(jobs_for(request), pk=pk)


def sees_access(request: SignedInRequest, job: Job) -> bool:
    """Whether this person may read the way in: the office, and who has a day there today."""
    if request.user.is_office:
        return True
    mine = job.days.filter(crew__members=request.user)
    return mine.filter(date=today_of(company_of(request))).exists()


def writable_job_for(request: SignedInRequest, pk: int) -> Job:
    """Return a job this person may change. Raises Http404, or PermissionDenied for readers."""
    return _for_office(request, job_for(request, pk))


def writable_client_for(request: SignedInRequest, pk: int) -> Client:
    """Return a client of the company. Raises PermissionDenied for a crew member, else Http404."""
    return _office_row(request, Client.objects.filter(company=company_of(request)), pk)


def writable_product_for(request: SignedInRequest, pk: int) -> Product:
    """Return a product of the company. Raises PermissionDenied for a crew member, else Http404."""
    return _office_row(request, Product.objects.filter(company=company_of(request)), pk)


def writable_crew_for(request: SignedInRequest, pk: int) -> Crew:
    """Return a crew of the company. Raises PermissionDenied for a crew member, else Http404."""
    return _office_row(request, Crew.objects.filter(company=company_of(request)), pk)


def person_for(request: SignedInRequest, pk: int) -> User:
    """Return a person of the company, for the owner. Raises PermissionDenied, or Http404."""
    if not request.user.is_owner:
        raise PermissionDenied("People are managed by the owner.")
    return get_object_or_404(User, company=company_of(request), pk=pk)


def writable_room_for(request: SignedInRequest, pk: int) -> Room:
    """Return a room this person may change. Raises Http404, or PermissionDenied for readers."""
    rooms = Room.objects.select_related("job__company", "zone")
    return _for_office(request, get_object_or_404(rooms, pk=pk, job__in=jobs_for(request)))


def note_for(request: SignedInRequest, pk: int) -> RoomNote:
    """Return a note this person may see: the office all, a crew those offered to it. Or Http404."""
    notes = RoomNote.objects.filter(room__job__in=jobs_for(request)).select_related("photo")
    if not request.user.is_office:
        notes = notes.filter(for_packet=True)
    return get_object_or_404(notes, pk=pk)


def writable_note_for(request: SignedInRequest, pk: int) -> RoomNote:
    """Return a note this person may change. Raises Http404, or PermissionDenied for readers."""
    notes = RoomNote.objects.select_related("room__job__company", "photo")
    return _for_office(request, get_object_or_404(notes, pk=pk, room__job__in=jobs_for(request)))


def mail_for(request: SignedInRequest, pk: int) -> Mail:
    """Return a mail of the company. Raises PermissionDenied for a crew member, else Http404."""
    return _office_row(request, Mail.objects.filter(company=company_of(request)), pk)


def removal_for(request: SignedInRequest, pk: int) -> Removal:
    """Return what was removed. Raises PermissionDenied for a crew member, else Http404."""
    return _office_row(request, Removal.objects.filter(company=company_of(request)), pk)


def writable_doorway_for(request: SignedInRequest, pk: int) -> Doorway:
    """Return a doorway this person may change. Raises Http404, or PermissionDenied for readers."""
    doorways = Doorway.objects.select_related("room__job__company")
    doorway = get_object_or_404(doorways, pk=pk, room__job__in=jobs_for(request))
    return _for_office(request, doorway)


def writable_stair_for(request: SignedInRequest, pk: int) -> StairFlight:
    """Return a flight this person may change. Raises Http404, or PermissionDenied for readers."""
    flights = StairFlight.objects.select_related("job__company")
    return _for_office(request, get_object_or_404(flights, pk=pk, job__in=jobs_for(request)))


def writable_run_for(request: SignedInRequest, pk: int) -> TrimRun:
    """Return a run of trim this person may change. Raises Http404, or PermissionDenied."""
    runs = TrimRun.objects.select_related("room__job__company")
    run = get_object_or_404(runs, pk=pk, room__job__in=jobs_for(request))
    return _for_office(request, run)


def zone_for(request: SignedInRequest, pk: int) -> FloorZone:
    """Return a floor zone this person may see. Raises Http404 for any other."""
    zones = FloorZone.objects.select_related("job__company", "product")
    return get_object_or_404(zones, pk=pk, job__in=jobs_for(request))


def writable_zone_for(request: SignedInRequest, pk: int) -> FloorZone:
    """Return a floor zone this person may change. Raises Http404, or PermissionDenied."""
    return _for_office(request, zone_for(request, pk))


def plan_for(request: SignedInRequest, pk: int) -> FloorPlan:
    """Return a plan this person may see. Raises Http404 for any other."""
    plans = FloorPlan.objects.select_related("zone__job__company", "document", "request")
    return get_object_or_404(plans, pk=pk, zone__job__in=jobs_for(request))


def day_for(request: SignedInRequest, pk: int) -> WorkDay:
    """Return a work day this person may see and log. Raises Http404 for any other."""
    return get_object_or_404(days_for(request), pk=pk)


def writable_day_for(request: SignedInRequest, pk: int) -> WorkDay:
    """Return a work day this person may move. Raises Http404, or PermissionDenied for readers."""
    return _for_office(request, day_for(request, pk))


def days_change_for(request: SignedInRequest, pk: int) -> DaysChange:
    """Return a change of days of one of the company's jobs to the office."""
    rows = DaysChange.objects.select_related("job__company").filter(job__in=jobs_for(request))
    return _office_row(request, rows, pk)


def packet_for(request: SignedInRequest, pk: int) -> Packet:
    """Return a packet of a job this person may see. Raises Http404 for any other."""
    packets = Packet.objects.select_related("job__company", "document", "pdf")
    return get_object_or_404(packets, pk=pk, job__in=jobs_for(request))


def supplied_for(request: SignedInRequest, pk: int) -> SuppliedMaterial:
    """Return a supplied material that this person may count. Raises Http404 for any other."""
    rows = SuppliedMaterial.objects.select_related("job__company", "job__client")
    return get_object_or_404(rows, pk=pk, job__in=jobs_for(request))


def receipt_for(request: SignedInRequest, pk: int) -> SuppliedReceipt:
    """Return a count this person may remove. Raises Http404, or PermissionDenied for readers."""
    rows = SuppliedReceipt.objects.select_related("material__job__company")
    row = get_object_or_404(rows, pk=pk, material__job__in=jobs_for(request))
    return _for_office(request, row)


def log_entry_for(request: SignedInRequest, pk: int) -> LogEntry:
    """Return a log entry of a day this person may see. Raises Http404 for any other."""
    entries = LogEntry.objects.select_related("day__job__company", "photo", "who")
    return get_object_or_404(entries, pk=pk, day__in=days_for(request))


def log_shot_for(request: SignedInRequest, pk: int) -> LogPhoto:
    """Return a photograph of the log of a day this person may see. Raises Http404 for any other."""
    photos = LogPhoto.objects.select_related("file", "log__day__job__company")
    return get_object_or_404(photos, pk=pk, log__day__in=days_for(request))


def feed_by_token(token: str) -> CalendarFeed:
    """Return the calendar that a link's word opens. Raises Http404 for a word that opens none.

    A link that was revoked opens nothing, nor does that of a person who no longer signs in.
    """
    feeds = CalendarFeed.objects.filter(revoked_at__isnull=True)
    feeds = feeds.exclude(person__is_active=False).select_related("company", "crew", "person")
    return get_object_or_404(feeds, token_hash=token_hash(token))


def feed_for(request: SignedInRequest, pk: int) -> CalendarFeed:
    """Return a calendar link this person may revoke: the owner all, others theirs. Or Http404."""
    feeds = CalendarFeed.objects.filter(company=company_of(request))
    if not request.user.is_owner:
        feeds = feeds.filter(person=request.user)
    return get_object_or_404(feeds, pk=pk)


def kept_conflict_for(request: SignedInRequest, pk: int) -> KeptConflict:
    """Return a kept conflict of the company. Raises PermissionDenied, or Http404."""
    return _office_row(request, KeptConflict.objects.filter(company=company_of(request)), pk)


def crew_of_owner(request: SignedInRequest, pk: int) -> Crew:
    """Return a crew of the company, for the owner. Raises PermissionDenied, or Http404."""
    if not request.user.is_owner:
        raise PermissionDenied("Links of crews are made by the owner.")
    return get_object_or_404(Crew, company=company_of(request), pk=pk)


def extra_for(request: SignedInRequest, pk: int) -> JobExtra:
    """Return extra work of a job this person may see. Raises Http404 for any other."""
    rows = JobExtra.objects.filter(dropped_at__isnull=True)
    rows = rows.select_related("job__company", "photo", "who")
    return get_object_or_404(rows, pk=pk, job__in=jobs_for(request))


def callback_for(request: SignedInRequest, pk: int) -> Callback:
    """Return a callback of the company. Raises PermissionDenied for a crew member, else Http404."""
    rows = Callback.objects.select_related("job__company", "job__client", "day")
    return _office_row(request, rows.filter(job__company=company_of(request)), pk)


def stock_for_office(request: SignedInRequest, pk: int) -> LeftoverStock:
    """Return planks left over. Raises PermissionDenied for a crew member, else Http404."""
    return _office_row(request, LeftoverStock.objects.filter(company=company_of(request)), pk)


def _for_office(request: SignedInRequest, row: M) -> M:
    """Return ``row`` to the office; raise PermissionDenied for others, who may only read it."""
    if not request.user.is_office:
        raise PermissionDenied("Only the owner and the estimators change this.")
    return row


def _office_row(request: SignedInRequest, rows: QuerySet[M], pk: int) -> M:
    """Return one of the company's rows to the office."""
    if not request.user.is_office:
        raise PermissionDenied("Only the owner and the estimators see this.")
    return get_object_or_404(rows, pk=pk)
