"""What is kept and for how long, and what the last sweep cleared away."""

from __future__ import annotations

import json

from django.http import HttpResponse
from django.urls import reverse
from django.utils import timezone

from estimates.forms.privacy.keeping import KeepingForm
from estimates.services.privacy.erasing import clients_past_their_time
from estimates.services.privacy.keeping import KEEPING_FIELDS, set_keeping
from jobs.access import SignedInRequest, company_of, owner
from jobs.forms.base import sent
from jobs.models import Errand
from jobs.models.work import ErrandState
from jobs.services.sweeping.sweep import KIND, WORDS
from jobs.views.edit_page import edit_page, edits, initial_of, picked


@edits
@owner
def keeping(request: SignedInRequest) -> HttpResponse:
    """How long photographs and clients are kept; the figures of the last sweep."""
    company = company_of(request)
    initial = initial_of(company, KEEPING_FIELDS)
    form = KeepingForm(sent(request), initial=initial, version=company.version)
    due = clients_past_their_time(company, timezone.now())
    return edit_page(
        request,
        form=form,
        write=lambda: set_keeping(
            company=company,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            values=picked(form, KEEPING_FIELDS),
        ),
        done="It is set how long things are kept.",
        to=lambda _: reverse("keeping"),
        context={"due": due[:20], "due_count": len(due), **_last_sweep()},
        template="estimates/privacy/keeping.html",
    )


def _last_sweep() -> dict[str, object]:
    """Return when the book was swept last, and how many went of each kind, in words."""
    done = Errand.objects.filter(kind=KIND, state=ErrandState.DONE).order_by("-pk").first()
    if done is None:
        return {"swept_at": None, "swept": []}
    figures = json.loads(done.result or "{}")
    swept = [(words, figures[name]) for name, words in WORDS.items() if name in figures]
    return {"swept_at": done.finished_at, "swept": swept}
