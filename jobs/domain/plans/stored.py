"""A plan as it is stored: beside what it was asked for, each a document of its own.

Both have no word for their kind in their text: they are the interchange forms of the layout core,
whose readers take every format. A request of format 1 is one of format 2 that leaves the new fields
out. A plan of format 1 stays one: it was made by older rules, and is shown, never judged again.
"""

from __future__ import annotations

from dataclasses import dataclass

from jobs.domain.formats import DocumentForm, Fields
from layout.values.plan import Plan
from layout.values.plan_form import read_plan
from layout.values.request import PlanRequest, read_request

_MADE_AS = "made_as"  # the format that a plan was made in, while it is brought up


def _as_made(fields: Fields) -> Fields:
    """Return the fields of a plan of format 1, marked as such."""
    return fields | {_MADE_AS: 1}


REQUEST = DocumentForm(kind="request", upgrades=(dict,))
PLAN = DocumentForm(kind="plan", upgrades=(_as_made,))


@dataclass(frozen=True, kw_only=True, slots=True)
class StoredPlan:
    """A plan and its request: as the layout core's values, and in their stored forms."""

    request: PlanRequest
    plan: Plan
    request_form: Fields
    plan_form: Fields

    @property
    def is_older(self) -> bool:
        """Whether it was made by older rules: shown for ever, printed or agreed on no more."""
        return self.plan.format < PLAN.newest

    @property
    def is_of_the_rest(self) -> bool:
        """Whether it is only of what was left of a floor at its time."""
        return bool(self.request.laid)


def request_from(fields: Fields) -> tuple[PlanRequest, Fields]:
    """Return a request as a value and in its form. Raises InputError."""
    form = REQUEST.head | fields
    return read_request(form), form


def plan_from(fields: Fields) -> tuple[Plan, Fields]:
    """Return a plan as a value and in its form. Raises InputError."""
    content = dict(fields)
    form = {"format": content.pop(_MADE_AS, PLAN.newest)} | content
    return read_plan(form), form
