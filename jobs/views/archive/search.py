"""One box for jobs, clients and addresses."""

from __future__ import annotations

from django.http import HttpResponse
from django.views.decorators.http import require_safe

from jobs.access import SignedInRequest, company_of, jobs_for, signed_in
from jobs.http import render_page
from jobs.models import Client
from jobs.readers.archive.search import LONGEST, matching_clients, matching_jobs
from jobs.readers.path import standings
from jobs.views.list_page import page_of

MOST_CLIENTS = 30


@require_safe
@signed_in
def search(request: SignedInRequest) -> HttpResponse:
    """The jobs in which every word typed stands, archived ones too; to the office also clients."""
    text = request.GET.get("q", "").strip()[:LONGEST]
    page = page_of(request, matching_jobs(jobs_for(request), text))
    jobs = list(page.object_list)
    stands = standings(jobs)
    company = company_of(request)
    everyone = company.clients.all() if request.user.is_office else Client.objects.none()
    clients = list(matching_clients(everyone, text)[: MOST_CLIENTS + 1])
    context = {
        "q": text,
        "rows": [(job, stands[job.pk]) for job in jobs],
        "page_obj": page,
        "clients": clients[:MOST_CLIENTS],
        "more_clients": len(clients) > MOST_CLIENTS,
        "most_clients": MOST_CLIENTS,
    }
    return render_page(request, "jobs/archive/search.html", context)
