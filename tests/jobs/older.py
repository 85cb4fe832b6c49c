"""Plans as an earlier release left them: made by older rules, stored in the format of that time."""

from __future__ import annotations

from dataclasses import replace

from jobs.domain.documents import canonical_json
from jobs.models import FloorPlan, FloorZone, Job
from jobs.readers.plan_request import request_of
from jobs.services.records import freeze, next_number
from jobs.services.scope import freeze_scope
from layout.values.plan_form import plan_to_json
from tests.builders import make_company, make_job, make_room, make_zone
from tests.jobs.agreed import a_crew, laid_out
from tests.jobs.plans import judged


def planned_before(zone: FloorZone) -> FloorPlan:
    """Return a stored plan of format 1 of a floor as it stands."""
    made = judged(canonical_json(request_of(zone)))
    company, totals = zone.job.company, made.plan.totals
    request_form = {**made.request_form, "format": 1}
    request = freeze(company=company, kind="request", content=request_form, user=None)
    content = plan_to_json(replace(made.plan, format=1))
    return FloorPlan.objects.create(
        zone=zone,
        number=next_number(zone.plans.all()),
        document=freeze(
            company=company, kind="plan", content=content, user=None, inputs=request.sha256
        ),
        request=request,
        planks=totals.planks,
        cartons=totals.cartons,
        lower_bound=totals.lower_bound,
        proven=made.plan.status == "proven",
    )


def job_agreed_before() -> Job:
    """Return a job whose scope was agreed on with a plan of format 1, laid onto days."""
    job = make_job(make_company())
    planned_before(make_zone(make_room(job)))
    job.agreed_scope = freeze_scope(job=job, user=None)
    job.save()
    laid_out(job, a_crew(job.company))
    return Job.objects.get(pk=job.pk)
