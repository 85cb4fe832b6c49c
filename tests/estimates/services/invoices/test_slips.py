"""The occupant's word that the work is done: frozen, without a price, also on paper."""

from __future__ import annotations

from io import BytesIO

import page as page_validation
import pytest
from pypdf import PdfReader

from estimates.models import CompletionSlip
from estimates.readers.invoices.slips import stored_slip, word_to_sign
from estimates.services.invoices.paper import slip_pdf
from estimates.services.invoices.slips import sign_slip
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from jobs.services.files import read_file
from tests.builders import make_job
from tests.estimates.a_job import TODAY
from tests.estimates.services.invoices.test_invoices import a_stores_job

pytestmark = pytest.mark.django_db


def sign(job: Job, owner: User, key: str = "s", open_points: str = "") -> CompletionSlip:
    return sign_slip(
        job=job,
        user=owner,
        key=key,
        name="Ines Okafor",
        open_points=open_points,
        today=TODAY,
    )


def text_of(pdf: bytes) -> str:
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
    return " ".join(text.split())


@pytest.mark.usefixtures("set_paper")
def test_a_signed_slip_says_who_what_and_when(job: Job, owner: User) -> None:
    slip = sign(job, owner, open_points="Closet door sticks.")
    text = text_of(read_file(slip.pdf))
    said = ("Ines Okafor", "March 1, 2027", "Closet door sticks.", "Den", "20 ft²")
    assert [words for words in said if words not in text] == []


@pytest.mark.usefixtures("set_paper")
def test_the_occupant_of_a_stores_job_reads_its_order_and_no_price(owner: User) -> None:
    slip = sign(a_stores_job(owner), owner)
    text = text_of(read_file(slip.pdf))
    assert "Alder Store, order 4711" in text
    assert "$" not in text + slip.document.text
    assert [word for word in ("price", "total", "amount") if word in text.lower()] == []


@pytest.mark.usefixtures("set_paper")
def test_the_paper_to_be_signed_by_hand_has_lines_and_no_name(job: Job) -> None:
    word = word_to_sign(job, today=TODAY)
    assert word is not None
    pdf = slip_pdf(job.company, word)
    assert "Name Signature Date" in text_of(pdf)
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").is_compliant


@pytest.mark.usefixtures("set_paper")
def test_the_signed_paper_passes_the_pdf_ua_check(job: Job, owner: User) -> None:
    pdf = read_file(sign(job, owner).pdf)
    assert page_validation.validate_pdf_bytes(pdf, profile="ua1").is_compliant


def test_the_same_word_sent_twice_is_one_slip(job: Job, owner: User) -> None:
    assert sign(job, owner).pk == sign(job, owner).pk


def test_a_second_word_is_another_slip_and_the_first_stays(job: Job, owner: User) -> None:
    first, second = sign(job, owner, open_points="Door."), sign(job, owner, key="t")
    assert (first.number, second.number) == (1, 2)
    assert stored_slip(CompletionSlip.objects.get(pk=first.pk)).open_points == "Door."


def test_before_a_quote_is_accepted_there_is_nothing_to_sign(owner: User, job: Job) -> None:
    other = make_job(job.company)
    with pytest.raises(BadValueError, match="no agreed scope"):
        sign(other, owner)
