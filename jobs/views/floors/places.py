"""Where the rooms of a floor lie: typed, or one set beside another through a doorway."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_http_methods

from jobs.access import SignedInRequest, office, writable_zone_for
from jobs.domain.lengths import mm_from
from jobs.forms.floors.floors import ArrangeForm, BesideForm, JoinForm, PlaceForm
from jobs.http import go_to, render_page
from jobs.models import Doorway, FloorZone
from jobs.readers.path import path_context
from jobs.readers.room_drawings import sketch_zone, sketches_of
from jobs.services.floors import floors
from jobs.services.floors.joining import Proposal, join_by_doorways, proposals_for, said_of_joining


@require_http_methods(["GET", "HEAD", "POST"])
@office
def zone_place(request: SignedInRequest, pk: int) -> HttpResponse:
    """Place the rooms of a floor: by a doorway (``do`` names it), or all of them as typed."""
    zone = writable_zone_for(request, pk)
    doing = request.POST.get("do", "arrange") if request.method == "POST" else ""
    proposed = {each.doorway.pk: each for each in proposals_for(zone)}
    besides = [
        _beside(request, zone, doorway, doing, proposed.get(doorway.pk))
        for doorway in links_of(zone)
    ]
    joining = JoinForm(
        request.POST if doing in ("join", "guess") else None, version=zone.version, prefix="join"
    )
    whole = ArrangeForm(
        request.POST if doing == "arrange" else None, version=zone.version, prefix="all"
    )
    rooms = [
        PlaceForm(
            request.POST if doing == "arrange" else None,
            room=room,
            units=zone.job.units,
            prefix=f"room-{room.pk}",
        )
        for room in zone.rooms.select_related("job")
    ]
    if joining.is_bound and _joined(request, zone, joining, guess=doing == "guess"):
        return go_to(request, "zone-place" if proposals_for(zone) else "zone", zone.pk)
    if doing == "arrange" and _arranged(request, zone, whole, rooms):
        return _placed(request, zone)
    chosen = next((form for form in besides if form.is_bound), None)
    if chosen is not None and _set_beside(request, chosen):
        return _placed(request, zone)
    status = max(form.status for form in (joining, whole, *rooms, *besides))
    context = path_context(request, zone.job, "Floor") | {
        "zone": zone,
        "svg": sketch_zone(zone),
        "drawings": sketches_of([form.room for form in rooms]),
        "whole": whole,
        "rooms": rooms,
        "joining": joining,
        "besides": besides,
        "asking": [form for form in besides if not form.known],
        "proposed": bool(proposed),
        "bound": [form for form in (joining, whole, *rooms, *besides) if form.is_bound],
    }
    return render_page(request, "jobs/floors/place.html", context, status=status)


def links_of(zone: FloorZone) -> list[Doorway]:
    """Return the doorways between two rooms of a floor through which the floor is carried."""
    doorways = Doorway.objects.select_related("room__job", "room__zone", "beyond__job")
    return list(doorways.filter(room__zone=zone, beyond__zone=zone))


def _beside(
    request: SignedInRequest,
    zone: FloorZone,
    doorway: Doorway,
    doing: str,
    proposal: Proposal | None,
) -> BesideForm:
    """Return the form that places the room beyond a doorway, bound where it was sent."""
    sent = request.POST if doing == f"doorway-{doorway.pk}" else None
    units, unit = zone.job.units, zone.job.unit
    likely = None
    if proposal is not None:
        likely = (proposal.match.wall, mm_from(proposal.match.offset, unit))
    return BesideForm(sent, doorway=doorway, units=units, version=zone.version, proposed=likely)


def _joined(request: SignedInRequest, zone: FloorZone, form: JoinForm, *, guess: bool) -> bool:
    """Whether placing the rooms by their doorways was accepted; says what was assumed."""
    if not form.is_valid():
        return False
    unknown = {doorway.pk for doorway in links_of(zone) if doorway.beyond_wall is None}
    saved = form.carry_out(
        lambda: join_by_doorways(
            zone=zone,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            guess=guess,
        )
    )
    if saved is None:
        return False
    zone.refresh_from_db()
    for sentence in said_of_joining(zone, unknown):
        messages.success(request, sentence)
    return True


def _arranged(
    request: SignedInRequest, zone: FloorZone, whole: ArrangeForm, rooms: list[PlaceForm]
) -> bool:
    """Whether every room is now placed as typed."""
    if not all([whole.is_valid(), *(form.is_valid() for form in rooms)]):
        return False
    saved = whole.carry_out(
        lambda: floors.arrange(
            zone=zone,
            user=request.user,
            key=whole.once_key,
            expected=whole.cleaned_data["version"],
            places={form.room.pk: form.values for form in rooms},
        )
    )
    return saved is not None


def _set_beside(request: SignedInRequest, form: BesideForm) -> bool:
    """Whether the room beyond a doorway is now set against it."""
    if not form.is_valid():
        return False
    data = form.cleaned_data
    saved = form.carry_out(
        lambda: floors.place_beside(
            doorway=form.doorway,
            user=request.user,
            key=form.once_key,
            expected=data["version"],
            wall=data["wall"] - 1,
            offset_mm=data["offset"].mm,
        )
    )
    return saved is not None


def _placed(request: SignedInRequest, zone: FloorZone) -> HttpResponse:
    messages.success(request, "The rooms are placed.")
    return go_to(request, "zone-place", zone.pk)
