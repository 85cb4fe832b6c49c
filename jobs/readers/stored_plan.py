"""The one reader of stored plans and of what they were asked for."""

from __future__ import annotations

from jobs.domain.plans.stored import PLAN, REQUEST, StoredPlan, plan_from, request_from
from jobs.models import Document, FloorPlan
from jobs.readers.documents import opened


def stored_plan(plan: FloorPlan) -> StoredPlan:
    """Return a stored plan and its request. Raises BrokenDocumentError where one can't be read."""
    return plan_of(request=plan.request, plan=plan.document)


def plan_of(*, request: Document, plan: Document) -> StoredPlan:
    """Return the plan that two documents hold; raises as `stored_plan`."""
    request_value, request_form = opened(request, REQUEST, request_from)
    plan_value, plan_form = opened(plan, PLAN, plan_from)
    return StoredPlan(
        request=request_value, plan=plan_value, request_form=request_form, plan_form=plan_form
    )


def of_older_rules(document: Document) -> bool:
    """Whether a stored plan was made by older rules: shown for ever, printed anew no more."""
    return document.format < PLAN.newest
