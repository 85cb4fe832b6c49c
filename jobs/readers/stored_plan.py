"""The one reader of stored plans and of what they were asked for."""

from __future__ import annotations

from functools import lru_cache

from jobs.domain.formats import Fields
from jobs.domain.plans.stored import PLAN, REQUEST, StoredPlan, plan_from, request_from
from jobs.models import Document, FloorPlan
from jobs.readers.documents import checked
from layout.values.plan import Plan
from layout.values.request import PlanRequest


def stored_plan(plan: FloorPlan) -> StoredPlan:
    """Return a stored plan and its request. Raises BrokenDocumentError where one can't be read."""
    return plan_of(request=plan.request, plan=plan.document)


def plan_of(*, request: Document, plan: Document) -> StoredPlan:
    """Return the plan that two documents hold; raises as `stored_plan`.

    A page asks for a plan a dozen times, so the last ones are kept; nobody changes their forms.
    """
    request_value, request_form = checked(
        request, REQUEST, lambda: _request_of(request.text, request.format)
    )
    plan_value, plan_form = checked(plan, PLAN, lambda: _plan_of(plan.text, plan.format))
    return StoredPlan(
        request=request_value, plan=plan_value, request_form=request_form, plan_form=plan_form
    )


def of_older_rules(document: Document) -> bool:
    """Whether a stored plan was made by older rules: shown for ever, printed anew no more."""
    return document.format < PLAN.newest


@lru_cache(maxsize=32)
def _request_of(text: str, stated: int) -> tuple[PlanRequest, Fields]:
    return request_from(REQUEST.read(text, stated=stated))


@lru_cache(maxsize=32)
def _plan_of(text: str, stated: int) -> tuple[Plan, Fields]:
    return plan_from(PLAN.read(text, stated=stated))
