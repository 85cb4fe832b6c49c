"""The floor passport behind its link: no sign-in, no price, nothing of how to get in."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from estimates.access import passport_by_token
from estimates.forms.passport.pick import PickForm
from estimates.readers.passport.floors import PassportFloor, map_of, picked_plank
from estimates.readers.passport.page import PassportPage, passport_page
from estimates.views.sending.closed import opened_by_link
from jobs.clock import local_to
from jobs.domain.numerals import whole_number
from jobs.http import render_page, whole_address


@never_cache
@opened_by_link
@require_safe
def passport_public(request: HttpRequest, token: str) -> HttpResponse:
    """The floors as they were handed over; of a plank that is picked, how one gets at it.

    ``edition`` in the address is a later one, in which something is told otherwise.
    """
    passport = passport_by_token(token)
    company = passport.job.company
    number = whole_number(request.GET.get("edition", "0"))
    with local_to(company):
        page = passport_page(passport, number) if number is not None else None
        if page is None:
            message = "The passport has no such edition."
            raise Http404(message)
        stays = passport.leftovers_stay
        floors = [_floor(request, page, floor, leftovers_stay=stays) for floor in page.floors]
        status = 422 if any(floor["refused"] for floor in floors) else 200
        context = {
            "page": page,
            "floors": floors,
            "leftovers_stay": stays,
            "address": whole_address("passport-public", token),
            "company_name": company.name,
            "letterhead": page.letterhead,
        }
        response = render_page(request, "estimates/passport/passport.html", context, status=status)
    response["X-Robots-Tag"] = "noindex"
    return response


def _floor(
    request: HttpRequest, page: PassportPage, floor: PassportFloor, *, leftovers_stay: bool
) -> dict[str, object]:
    """Return a floor with its map, the form that picks a plank, and the plank."""
    if floor.stored is None:
        return {"floor": floor, "map": "", "form": None, "picked": None, "refused": False}
    is_meant = request.GET.get("floor") == str(floor.place)
    edition = page.number if page.number != page.first else 0
    data = request.GET if is_meant else None
    form = PickForm(data, floor=floor.place, planks=floor.planks, edition=edition)
    picked = None
    if is_meant and form.is_valid():
        row, plank = form.cleaned_data["row"], form.cleaned_data["plank"]
        picked = picked_plank(floor, row=row, plank=plank, leftovers_stay=leftovers_stay)
    return {
        "floor": floor,
        "map": map_of(floor, picked, edition=edition),
        "form": form,
        "picked": picked,
        "refused": is_meant and bool(form.errors),
    }
