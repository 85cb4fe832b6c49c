"""A bedroom and a hall as they are sold: measured, planned, a carpet to take up, a whole set-up."""

from __future__ import annotations

from decimal import Decimal

from estimates.domain.quotes.content import IssuedQuote
from estimates.models import SalesTerms
from estimates.readers.draft.preview import previewed
from estimates.readers.draft.rows import draft_row
from estimates.services.draft.drafts import save_draft
from jobs.models import Company, ExistingFloor, Job, SiteFacts, User
from tests.builders import (
    make_client,
    make_doorway,
    make_job,
    make_plan,
    make_product,
    make_room,
    make_run,
    make_zone,
)
from tests.estimates.a_job import TODAY, company_of

WARRANTY = (
    "Seams that open, strips that come loose and trim that we set are put right free of charge. "
    "Water from above, pets' claws and furniture without felt are not covered."
)


def a_house(owner: User) -> Job:
    """Furniture in the bedroom; the hall's door rubs and the tile beyond stands 3/8 in higher."""
    company = company_of(owner)
    _set_up(company)
    client = make_client(company, phone="555-0145", email="ines@example.com")
    job = make_job(company, client, title="Bedroom and hall")
    oak = make_product(company, name="Slate Oak plank, 7 x 48")
    rooms = make_room(job, "Bedroom", (144, 120)), make_room(job, "Hall", (120, 49))
    for room in rooms:
        room.furniture = "full" if room.name == "Bedroom" else room.furniture
        room.base = "reinstall"
        make_plan(make_zone(room, oak))
        make_run(room)
    make_doorway(
        rooms[1],
        beyond_kind="tile",
        treatment="reducer",
        step_mm=Decimal("9.525"),
        clearance_mm=Decimal("9.525"),
        doors_off=1,
        swing="in",
    )
    facts = {"existing_floor": ExistingFloor.CARPET, "tear_out": True}
    SiteFacts.objects.filter(job=job).update(**facts)
    return Job.objects.get(pk=job.pk)


def _set_up(company: Company) -> None:
    company.license, company.registration = "HG-0420", "PA000000"
    company.insurance, company.email = "Tidewater Mutual, policy 00-0193", "office@example.com"
    company.crew_day_hours = Decimal(8)
    company.save()
    SalesTerms.objects.create(
        company=company,
        state="PA",
        warranty_months=24,
        warranty_words=WARRANTY,
        payment_ways=f"Check to {company.name}, card, or bank transfer",
    )


def quoted(owner: User, **draft: object) -> IssuedQuote:
    """What the quote of the house says today, its draft filled in as told."""
    job = a_house(owner)
    row = draft_row(job)
    save_draft(row=row, user=owner, key="draft", expected=row.version, values=draft)
    return previewed(draft_row(job), TODAY)
