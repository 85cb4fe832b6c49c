"""A bedroom and a hall as they are sold: measured, planned, a carpet to take up, a whole set-up."""

from __future__ import annotations

from decimal import Decimal

from estimates.domain.quotes.content import IssuedQuote
from estimates.models import SalesTerms
from estimates.readers.draft.preview import previewed
from estimates.readers.draft.rows import draft_row
from estimates.services.draft.drafts import save_draft
from jobs.domain.lengths import MM_PER_IN
from jobs.models import Company, ExistingFloor, Job, Room, SiteFacts, User
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

INCH = MM_PER_IN
WARRANTY = (
    "Seams that open, strips that come loose and trim that we set are put right free of charge. "
    "Water from above, pets' claws and furniture without felt are not covered."
)


def a_house(owner: User, *, one_floor: bool = True) -> Job:
    """Furniture in the bedroom; the hall's door rubs and the tile beyond stands 3/8 in higher."""
    company = company_of(owner)
    _set_up(company)
    client = make_client(company, phone="555-0145", email="ines@example.com")
    job = make_job(company, client, title="Bedroom and hall")
    oak = make_product(company, name="Slate Oak plank, 7 x 48")
    bedroom = make_room(job, "Bedroom", (144, 120), furniture="full", base="reinstall")
    hall = make_room(job, "Hall", (49, 120), base="reinstall")
    for room in (bedroom, hall):
        make_run(room)
    _between(bedroom, hall)
    _to_the_tile(hall)
    zone = make_zone(bedroom, oak, name="Bedroom and hall")
    if one_floor:
        hall.zone, hall.place_x_mm = zone, INCH * Decimal("148.5")
        hall.save()
    else:
        make_plan(make_zone(hall, oak))
    make_plan(zone)
    facts = {"existing_floor": ExistingFloor.CARPET, "tear_out": True}
    SiteFacts.objects.filter(job=job).update(**facts)
    return Job.objects.get(pk=job.pk)


def _between(bedroom: Room, hall: Room) -> None:
    """A door 32 in wide, 20 in up the bedroom's right wall, which is the hall's left one."""
    make_doorway(
        bedroom,
        wall=1,
        offset_mm=INCH * 20,
        width_mm=INCH * 32,
        depth_mm=INCH * Decimal("4.5"),
        beyond=hall,
        beyond_wall=3,
        beyond_offset_mm=INCH * (120 - 52),
        doors_off=1,
    )


def _to_the_tile(hall: Room) -> None:
    make_doorway(
        hall,
        beyond_kind="tile",
        treatment="reducer",
        step_mm=INCH * 3 / 8,
        clearance_mm=INCH * 3 / 8,
        doors_off=1,
        swing="in",
    )


def _set_up(company: Company) -> None:
    company.license, company.registration = "HG-0420", "PA000000"
    company.insurance, company.email = "Tidewater Mutual, policy 00-0193", "office@example.com"
    company.crew_day_hours = Decimal(8)
    company.save()
    terms = {
        "state": "PA",
        "warranty_months": 24,
        "warranty_words": WARRANTY,
        "payment_ways": f"Check to {company.name}, card, or bank transfer",
    }
    SalesTerms.objects.update_or_create(company=company, defaults=terms)


def quoted(owner: User, *, one_floor: bool = True, **draft: object) -> IssuedQuote:
    """What the quote of the house says today, its draft filled in as told."""
    job = a_house(owner, one_floor=one_floor)
    row = draft_row(job)
    save_draft(row=row, user=owner, key="draft", expected=row.version, values=draft)
    return previewed(draft_row(job), TODAY)
