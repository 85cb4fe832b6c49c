"""A maker's sheet taken in: what is kept, what is refused."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Visitor
from django.urls import reverse
from PIL import Image
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DictionaryObject, NameObject, TextStringObject

from jobs.domain.checks import BadValueError
from jobs.models import Company, Product, StoredFile
from jobs.services.files import read_file
from jobs.services.products.sheets import MOST_PAGES, SheetSent, store_sheet
from tests.builders import make_company, make_person, make_product
from tests.jobs.views.test_product_steps import form_of, step_url
from tests.reading import words

pytestmark = pytest.mark.django_db


@pytest.fixture
def company() -> Company:
    """A company."""
    return make_company()


@pytest.fixture
def visitor(company: Company) -> Visitor:
    """A browser in which the owner is signed in."""
    signed_in = Visitor()
    signed_in.force_login(make_person(company))
    return signed_in


def pdf(*, pages: int = 1, change: Any = None) -> bytes:
    """Return a PDF of blank pages, changed by ``change`` before it is written."""
    writer = PdfWriter()
    for _ in range(pages):
        writer.add_blank_page(200, 200)
    if change is not None:
        change(writer)
    written = BytesIO()
    writer.write(written)
    return written.getvalue()


def acting(kind: str, detail: str) -> Any:
    """Return what lets a PDF do something when it is opened."""

    def change(writer: PdfWriter) -> None:
        action = {NameObject("/S"): NameObject(kind), NameObject(detail): TextStringObject("x")}
        writer._root_object[NameObject("/OpenAction")] = DictionaryObject(action)

    return change


def scripted(writer: PdfWriter) -> None:
    """Give a page of a PDF a script for the moment it is shown."""
    action = {NameObject("/JS"): TextStringObject("app.alert(1)")}
    more = {NameObject("/O"): DictionaryObject(action)}
    writer.pages[0][NameObject("/AA")] = DictionaryObject(more)


launching = acting("/Launch", "/F")


def kept(company: Company, content: bytes, name: str = "larch.pdf") -> Any:
    """Return the stored sheet."""
    sheet = SheetSent(upload=BytesIO(content), size=len(content), name=name)
    return store_sheet(company=company, sent=sheet)


def test_a_sheet_keeps_its_pages(company: Company) -> None:
    stored = kept(company, pdf(pages=3))
    assert len(PdfReader(BytesIO(read_file(stored))).pages) == 3


def test_a_sheet_is_written_anew_without_what_it_says_of_its_author(company: Company) -> None:
    signed = pdf(change=lambda writer: writer.add_metadata({"/Author": "Somebody"}))
    assert PdfReader(BytesIO(read_file(kept(company, signed)))).metadata != {"/Author": "Somebody"}
    assert b"Somebody" not in read_file(kept(company, signed))


def test_a_picture_of_a_sheet_becomes_a_jpeg(company: Company) -> None:
    written = BytesIO()
    Image.new("RGB", (40, 30), "tan").save(written, "PNG")
    assert kept(company, written.getvalue(), "larch.png").content_type == "image/jpeg"


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (pdf(change=lambda w: w.encrypt("secret")), "locked with a password"),
        (pdf(change=acting("/JavaScript", "/JS")), "carries a script"),
        (pdf(change=scripted), "carries a script"),
        (pdf(change=launching), "starts a program"),
        (pdf(change=lambda w: w.add_attachment("a.exe", b"MZ")), "carries another file"),
        (pdf(pages=MOST_PAGES + 1), f"accepted: up to {MOST_PAGES} pages"),
        (b"%PDF-1.7 and nothing more", "can't be read"),
        (b"words", "accepted: a PDF of up to 20 MB"),
    ],
)
def test_what_is_no_harmless_sheet_is_refused(
    company: Company, content: bytes, sentence: str
) -> None:
    with pytest.raises(BadValueError, match="larch") as refused:
        kept(company, content)
    assert sentence in str(refused.value)


def test_a_sheet_over_20_mb_is_refused_unread(company: Company) -> None:
    sheet = SheetSent(upload=BytesIO(b""), size=21 * 2**20, name="larch.pdf")
    with pytest.raises(BadValueError, match=r"larch\.pdf, 21 MB"):
        store_sheet(company=company, sent=sheet)


def test_a_sheet_is_attached_and_opened_again(visitor: Visitor, company: Company) -> None:
    sheet = SimpleUploadedFile("larch.pdf", pdf(), "application/pdf")
    product = make_product(company)
    visitor.post(step_url(product, "sheet"), form_of("sheet", sheet=sheet, sheet_edition="3"))
    answer = visitor.get(reverse("product-sheet", args=[product.pk]))
    assert answer.headers["Content-Type"] == "application/pdf"


def test_a_refused_sheet_is_not_kept_and_says_so_at_its_field(
    visitor: Visitor, company: Company
) -> None:
    product = make_product(company)
    sheet = SimpleUploadedFile("larch.pdf", pdf(change=launching), "application/pdf")
    answer = visitor.post(step_url(product, "sheet"), form_of("sheet", sheet=sheet))
    assert answer.status_code == 422
    assert "which carries a script or starts a program" in words(answer)
    assert Product.objects.get().sheet is None


def test_another_sheet_sent_from_the_same_page_takes_the_first_ones_place(
    visitor: Visitor, company: Company
) -> None:
    url = step_url(make_product(company), "sheet")
    for version, pages in ((1, 1), (2, 2)):
        sheet = SimpleUploadedFile("larch.pdf", pdf(pages=pages), "application/pdf")
        visitor.post(url, form_of("sheet", sheet=sheet, version=version))
    sheets = StoredFile.objects.all()
    sizes = {len(PdfReader(BytesIO(read_file(sheet))).pages) for sheet in sheets}
    assert sizes == {1, 2}


def test_a_sheet_is_taken_away_again(visitor: Visitor, company: Company) -> None:
    product = make_product(company, sheet=kept(company, pdf()))
    visitor.post(step_url(product, "sheet"), form_of("sheet", sheet_gone="on"))
    assert Product.objects.get().sheet is None


def test_the_sheet_of_another_company_is_hidden(visitor: Visitor) -> None:
    other = make_company("Other Floors")
    product = make_product(other, sheet=kept(other, pdf()))
    assert visitor.get(reverse("product-sheet", args=[product.pk])).status_code == 404


def test_a_product_without_a_sheet_opens_none(visitor: Visitor, company: Company) -> None:
    url = reverse("product-sheet", args=[make_product(company).pk])
    assert visitor.get(url).status_code == 404
