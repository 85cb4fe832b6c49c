"""A notice of the state: changed, or removed after asking."""

from __future__ import annotations

from django.http import HttpResponse
from django.urls import reverse

from estimates.access import notice_for
from estimates.forms.setup.further import NoticeForm
from estimates.services.setup import notices as services
from jobs.access import SignedInRequest, owner
from jobs.forms.base import sent
from jobs.views.edit_page import confirm_page, edit_page, edits, initial_of, picked


@edits
@owner
def state_notice(request: SignedInRequest, pk: int) -> HttpResponse:
    """Change a notice's heading and text."""
    notice = notice_for(request, pk)
    initial = initial_of(notice, services.NOTICE_FIELDS)
    form = NoticeForm(sent(request), initial=initial, version=notice.version)
    return edit_page(
        request,
        form=form,
        write=lambda: services.change_notice(
            notice=notice,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, services.NOTICE_FIELDS),
        ),
        done="The notice is changed.",
        to=lambda _: _back(),
        context={"notice": notice, "back": _back()},
        template="estimates/setup/notice.html",
    )


@edits
@owner
def state_notice_remove(request: SignedInRequest, pk: int) -> HttpResponse:
    """Remove a notice, after asking."""
    notice = notice_for(request, pk)
    return confirm_page(
        request,
        title=f"Remove {notice.title}",
        sentence="It is no longer printed on new quotes.",
        consequences=["Quotes that were issued keep it.", "Its text is gone from here."],
        action="Remove the notice",
        write=lambda: services.remove_notice(notice=notice, user=request.user),
        done="The notice is removed.",
        to=_back(),
        back=reverse("state-notice", args=[pk]),
    )


def _back() -> str:
    return reverse("company-setup") + "?open=notices#notices"
