"""What place and crew do to the hours: the usual crew, a priced one, an agreed one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from jobs.domain.days.on_site import crew_of_hours
from jobs.domain.scope.changed.said import crew_hours_said, trip_hours_said
from jobs.domain.scope.hours import SiteWork
from jobs.domain.scope.laid_for.basis import LaidFor, basis_from
from jobs.domain.scope.rates import to_hundredths
from jobs.domain.scope.scope import FrozenScope
from jobs.models import Company, FloorPlan, FloorZone, Job, PenciledCrew, SiteFacts
from jobs.readers.floors.for_days import waits_of
from jobs.readers.lived_in.facts import may_be_open
from jobs.readers.site import left_to_homeowner


def site_work(
    job: Job, plans: Mapping[FloorZone, FloorPlan], agreed: FrozenScope | None = None
) -> SiteWork:
    """Return what the place and the crew's day do to the hours.

    A job that is ``agreed`` goes on with the crew of its scope, so that a change is priced alone;
    one agreed without days goes on without. Before that it is the crew that the price was last
    reckoned for, else the company's usual one.
    """
    site = SiteFacts.objects.filter(job=job).first()
    kept = agreed.schedule if agreed else None
    company = job.company
    hours, trip = _crew_of(agreed)
    work = SiteWork(
        crew_hours_per_day=Decimal(company.crew_day_hours) if hours is None else hours,
        trip_hours=Decimal(company.trip_hours) if trip is None else trip,
        flights=site.flights if site else 0,
        acclimatize_hours=waits_of(plans),
        crew=kept.crew if kept else None,
        scheduled=agreed is None or kept is not None,
        left_to_homeowner=left_to_homeowner(job),
        older_days=kept is not None and kept.older,
        agreed=may_be_open(job, agreed),
    )
    if agreed is None:
        return for_crew(work, priced_basis(job), company)
    basis = basis_from(job.agreed_scope.laid_for) if job.agreed_scope else None
    return replace(work, laid_for=basis, crew=basis.crew) if basis and kept else work


def for_crew(work: SiteWork, basis: LaidFor | None, company: Company) -> SiteWork:
    """Return what a real crew does to the hours; the same without one.

    Everybody is on the road as long as the people of the usual crew are.
    """
    if basis is None:
        return work
    usual = crew_of_hours(Decimal(company.crew_day_hours))
    return replace(
        work,
        laid_for=basis,
        crew=basis.crew,
        crew_hours_per_day=basis.crew.capacity,
        trip_hours=to_hundredths(Decimal(company.trip_hours) * basis.crew.people / usual.people),
    )


def priced_basis(job: Job) -> LaidFor | None:
    """Return the real crew that the price of a job is reckoned for; None: the usual one."""
    row = PenciledCrew.objects.filter(job=job).first()
    return basis_from(row.priced) if row else None


def _crew_of(agreed: FrozenScope | None) -> tuple[Decimal | None, Decimal | None]:
    """Return the hours of a crew's day and of its trip as they were agreed on; None: not said."""
    if agreed is None:
        return None, None
    if agreed.schedule is not None:
        return agreed.schedule.crew_hours, agreed.schedule.trip_hours
    return crew_hours_said(agreed), trip_hours_said(agreed)
