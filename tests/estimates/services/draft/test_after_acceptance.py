"""A job after another product was chosen: what is printed, who may take it down, what it asks of
the house.
"""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO

import pytest
from django.test import Client as Visitor
from django.urls import reverse
from pypdf import PdfReader

from estimates.models import Acceptance
from estimates.readers.draft.page import said_of
from estimates.readers.draft.rows import draft_row
from estimates.readers.draft.ways import offered_ways
from jobs.models import Core, Job, Product, SiteFacts, User
from jobs.services.packets import print_packet
from jobs.services.scope import work_basis
from tests.builders import make_product
from tests.estimates.a_job import TODAY, accepted
from tests.estimates.services.draft.test_other_boards import drafted, issued, way_of
from tests.jobs.agreed import a_crew, laid_out
from tests.jobs.plans import planned_in
from tests.queries import queries_of

pytestmark = pytest.mark.django_db


def cautions_before(job: Job, product: Product) -> tuple[str, ...]:
    """What the office reads before it offers a product on a job."""
    return offered_ways(work_basis(Job.objects.get(pk=job.pk))).by_key[way_of(product)].cautions


@pytest.mark.usefixtures("set_paper")
def test_the_packet_is_of_the_product_that_was_chosen(
    owner: User, job: Job, thick: Product
) -> None:
    quote = issued(owner, job, way_of(thick))
    accepted(quote, choice="b")
    agreed = Job.objects.get(pk=job.pk)
    laid_out(agreed, a_crew(agreed.company))
    packet = print_packet(Job.objects.get(pk=job.pk))
    assert packet is not None
    floors = packet.content["floors"]
    newest = {zone.plans.first().document.sha256 for zone in agreed.zones.all()}  # type: ignore[union-attr]
    assert {floor["product"] for floor in floors} == {"Harbor Oak"}
    assert {floor["plan_sha256"] for floor in floors} == newest
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(packet.pdf)).pages)
    assert "Harbor Oak" in text
    assert "Slate Oak" not in text


def test_the_office_takes_down_which_choice_was_accepted(
    visitor: Visitor, owner: User, job: Job, thick: Product
) -> None:
    quote = issued(owner, job, way_of(thick))
    address = reverse("quote-accept", args=[quote.pk])
    spoken = {"name": "Ines Okafor", "read": "on"}
    visitor.post(address, spoken)
    assert not Acceptance.objects.exists()
    assert visitor.post(address, spoken | {"choice": "b"}).status_code == 303
    acceptance = Acceptance.objects.get()
    assert (acceptance.choice, acceptance.by_link) == ("b", False)
    assert {zone.product for zone in job.zones.all()} == {thick}


def test_what_a_product_stops_and_weighs_is_read_before_it_is_offered(
    owner: User, job: Job
) -> None:
    # 18.144 kg at 2.20462 lb each are 40.0 lb.
    ash = make_product(
        job.company,
        name="Harbor Ash",
        thickness_mm=Decimal("9.525"),
        core=Core.WOOD,
        acclimate_hours=0,
        carton_weight_kg=Decimal("18.144"),
    )
    for zone in job.zones.all():
        planned_in(zone, ash)
    # On wood a wood floor asks for a reading, which a rigid one without a limit does not.
    unread, held, weighs = cautions_before(job, ash)
    assert unread.startswith("No moisture reading yet. The subfloor is wood, and nobody has read")
    assert held.startswith("The boards wait for their moisture. Harbor Ash: wood lies in the room")
    assert weighs == "A carton weighs 40 lb."
    drafted(owner, job, second_way=way_of(ash))
    said = said_of(draft_row(Job.objects.get(pk=job.pk)), TODAY)
    assert any(text.endswith(f": {weighs}") for text in said.advice), said.refused


def test_what_the_job_waits_for_already_is_not_said_of_the_other_product(
    job: Job, thick: Product
) -> None:
    SiteFacts.objects.update_or_create(job=job, defaults={"subfloor": "slab"})
    Product.objects.update(carton_weight_kg=Decimal(18))
    assert cautions_before(job, thick) == ()


def test_a_draft_with_choices_reads_its_job_once(
    visitor: Visitor, owner: User, job: Job, thick: Product
) -> None:
    """Two further ways cost what differs in them: the job itself is read as often as for none."""
    address = reverse("quote-draft", args=[job.pk])
    drafted(owner, job)
    alone = queries_of(visitor, address)
    drafted(owner, job, second_way="base_new", third_way=f"{way_of(thick)}+base_new")
    with_ways = queries_of(visitor, address)
    for table in ("jobs_workday", "estimates_priceitem", "jobs_rate", "jobs_sitefacts"):
        more = _reads(with_ways, table) - _reads(alone, table)
        assert more <= 3, f"{table} is read {more} times more"


def _reads(statements: list[str], table: str) -> int:
    return sum(f'FROM "{table}"' in sql for sql in statements)
