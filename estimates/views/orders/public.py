"""The client's page of a change order, opened by its link. No sign-in, nothing else to be seen."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from estimates.access import change_by_link
from estimates.forms.orders.orders import AcceptChangeForm, DeclineChangeForm
from estimates.models import ChangeOffer
from estimates.readers.orders.offers import offer_state
from estimates.readers.orders.stored import stored_order
from estimates.readers.setup.sales import letterhead_of
from estimates.services.orders.answers import Whence, accept_change, decline_change
from estimates.views.sending.closed import opened_by_link
from jobs.clock import local_to, today_of
from jobs.forms.base import sent
from jobs.http import render_page
from jobs.services.files import serve
from jobs.views.edit_page import edits


@never_cache
@opened_by_link
@edits
def change_public(request: HttpRequest, token: str) -> HttpResponse:
    """The change order as it was sent, and the form to accept it."""
    offer = change_by_link(token)
    with local_to(offer.job.company):
        form = AcceptChangeForm(sent(request))
        if request.method == "POST" and form.is_valid():
            order = form.carry_out(
                lambda: accept_change(
                    offer=offer,
                    name=form.cleaned_data["name"],
                    today=today_of(offer.job.company),
                    whence=_whence(request),
                )
            )
            if order is not None:
                return redirect("change-public", token=token)
        return _page(request, offer, token, form)


@never_cache
@opened_by_link
@require_POST
def change_decline(request: HttpRequest, token: str) -> HttpResponse:
    """The client says no, with a reason if they like."""
    offer = change_by_link(token)
    form = DeclineChangeForm(request.POST)
    if form.is_valid():
        declined = form.carry_out(
            lambda: decline_change(
                offer=offer, reason=form.cleaned_data["reason"], whence=_whence(request)
            )
        )
        if declined is not None:
            return redirect("change-public", token=token)
    with local_to(offer.job.company):
        return _page(request, offer, token, AcceptChangeForm(), form)


@never_cache
@opened_by_link
@require_safe
def change_public_file(request: HttpRequest, token: str) -> HttpResponse:
    """The PDF exactly as it was sent."""
    return serve(change_by_link(token).pdf)  # type: ignore[return-value]


@never_cache
@opened_by_link
@require_safe
def change_public_photo(request: HttpRequest, token: str) -> HttpResponse:
    """The photograph that goes with the change."""
    photo = change_by_link(token).draft.photo
    if photo is None:
        message = "This change order has no photograph."
        raise Http404(message)
    return serve(photo)  # type: ignore[return-value]


def _whence(request: HttpRequest) -> Whence:
    agent = request.headers.get("User-Agent", "")
    return Whence(ip=request.META.get("REMOTE_ADDR") or None, agent=agent)


def _page(
    request: HttpRequest,
    offer: ChangeOffer,
    token: str,
    form: AcceptChangeForm,
    decline_form: DeclineChangeForm | None = None,
) -> HttpResponse:
    company = offer.job.company
    context = {
        "offer": offer,
        "order": stored_order(offer),
        "state": offer_state(offer, today_of(company)),
        "token": token,
        "company_name": company.name,
        "letterhead": letterhead_of(company),
        "form": form,
        "decline_form": decline_form or DeclineChangeForm(),
    }
    status = max(form.status, decline_form.status if decline_form else 200)
    response = render_page(request, "estimates/orders/public.html", context, status=status)
    response["X-Robots-Tag"] = "noindex"
    return response
