"""The pages of an import: what is refused where, what is shown first, what is handed out."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client as Visitor
from django.urls import reverse

from estimates.domain.book.cells import decoded
from estimates.domain.book.sheet import MOST_ROWS, read_sheet
from estimates.models import PriceItem
from jobs.models import Company, Errand, StoredFile, User
from jobs.worker.worker import carry_out_waiting
from tests.estimates.a_job import TODAY, company_of

pytestmark = pytest.mark.django_db


def send(visitor: Visitor, content: bytes, name: str = "prices.csv") -> HttpResponse:
    """Send a file to be looked at."""
    typed = {"key": "once", "file": SimpleUploadedFile(name, content)}
    return visitor.post(reverse("price-import"), typed)  # type: ignore[return-value]


def preview(visitor: Visitor, content: bytes) -> str:
    """The preview of a file as text."""
    return visitor.get(send(visitor, content).headers["location"]).content.decode()


def mark_in(page: str) -> str:
    """The mark that a preview sends back."""
    return page.split('name="mark" value="')[1].split('"')[0]


def test_a_preview_counts_and_imports_nothing(visitor: Visitor) -> None:
    page = preview(visitor, b"material,price\npad,45\ncaulk,5\n")
    assert "Import 2 prices" in page
    assert "$45.00 a roll" in page
    assert not PriceItem.objects.filter(code="pad", amount=45).exists()


def test_every_fault_stands_in_its_row_and_column(visitor: Visitor) -> None:
    page = preview(visitor, b"material,price\nplanks,1\npad,=1+2\n")
    assert "2 entries can't be read" in page
    assert '<td class="num" data-label="Row">3</td>' in page
    assert "“=1+2” can&#x27;t be used" in page
    assert ">Import " not in page.split("What can't be read")[1]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"material,price\nEiche \xe4,1\n", "in another encoding (byte 0xe4 in line 2)"),
        (b"material,price\n".ljust(2_000_001, b"x"), "accepted: a CSV file in UTF-8"),
        (b"PK\x03\x04", "a workbook"),
        (b"", "The file is empty"),
    ],
)
def test_a_file_that_is_no_price_list_is_refused_at_the_field(
    visitor: Visitor, content: bytes, words: str
) -> None:
    answer = send(visitor, content)
    assert answer.status_code == 422
    assert words in answer.content.decode().replace("&#x27;", "'")
    assert not StoredFile.objects.filter(content_type="text/csv").exists()


def test_more_rows_than_are_accepted_are_refused_in_words(visitor: Visitor) -> None:
    page = preview(visitor, b"material,price\n" + b"pad,45\n" * 5001)
    assert "5,001 rows; accepted: up to 5,000." in page


def test_html_and_formulas_in_names_stay_text(visitor: Visitor) -> None:
    page = preview(visitor, b"material,item,price\npad,<script>x</script>,45\npad,=1+2,46\n")
    assert "&lt;script&gt;x" in page
    assert "<script>x" not in page
    assert "=1+2" in page


def test_an_import_goes_by_the_worker_and_says_how_it_ended(visitor: Visitor) -> None:
    where = send(visitor, b"material,price\npad,45\n").headers["location"]
    typed = {"key": "go", "mark": mark_in(visitor.get(where).content.decode())}
    assert visitor.post(where, typed).status_code == 303
    assert "Importing the prices" in visitor.get(where).content.decode()
    carry_out_waiting()
    ended = visitor.get(f"{where}?ended=1").content.decode()
    assert "1 new, 0 changed, 0 as before" in ended
    assert json.loads(Errand.objects.get().result)["new"] == 1


def test_progress_is_a_part_while_it_runs_and_leads_on_when_it_ended(visitor: Visitor) -> None:
    where = send(visitor, b"material,price\npad,45\n").headers["location"]
    visitor.post(where, {"key": "go", "mark": mark_in(visitor.get(where).content.decode())})
    part = visitor.get(f"{where}/progress", headers={"hx-request": "true"})
    assert part.content.decode().lstrip().startswith('<div id="importing"')
    carry_out_waiting()
    ended = visitor.get(f"{where}/progress", headers={"hx-request": "true"})
    assert ended.headers["hx-redirect"] == f"{where}?ended=1"


def test_the_book_is_handed_out_as_a_file_that_changes_nothing_read_back(visitor: Visitor) -> None:
    answer = visitor.get(reverse("price-export"))
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert "attachment" in answer.headers["content-disposition"]
    assert answer.content.startswith(b"\xef\xbb\xbfmaterial,item,")
    page = preview(visitor, answer.content)
    assert '<button class="primary">Import' not in page
    assert "As before" in page


def a_long_book(company: Company) -> None:
    """One price more than a file may bring in, beside those that are there."""
    rows = [
        PriceItem(
            company=company,
            code="cartons",
            item=f"Oak {number}",
            label="Flooring",
            unit="carton",
            pack="carton",
            amount=Decimal(60),
            effective_from=date(2026, 1, 1),
        )
        for number in range(MOST_ROWS + 1)
    ]
    PriceItem.objects.bulk_create(rows)


def test_a_book_longer_than_a_file_may_be_comes_in_parts_that_can_be_read_back(
    visitor: Visitor, owner: User
) -> None:
    a_long_book(company_of(owner))
    listed = visitor.get(reverse("price-list")).content.decode()
    assert "part 2 of 2 (CSV)" in listed
    parts = [visitor.get(reverse("price-export"), {"part": part}) for part in (1, 2)]
    sheets = [read_sheet(decoded(part.content), today=TODAY) for part in parts]
    assert [sheet.faults for sheet in sheets] == [(), ()]
    whole = PriceItem.objects.filter(kind="material").count()
    assert [len(sheet.rows) for sheet in sheets] == [MOST_ROWS, whole - MOST_ROWS]
    assert len({row.key for sheet in sheets for row in sheet.rows}) == whole
    assert "-part-2.csv" in parts[1].headers["content-disposition"]


@pytest.mark.parametrize("part", ["0", "3", "-1", "two", ""])
def test_a_part_that_is_not_there_is_the_whole_book(visitor: Visitor, part: str) -> None:
    answer = visitor.get(reverse("price-export"), {"part": part})
    assert answer.content == visitor.get(reverse("price-export")).content


def test_any_other_file_of_the_company_is_no_price_list(visitor: Visitor, owner: object) -> None:
    send(visitor, b"material,price\npad,45\n")
    StoredFile.objects.update(content_type="application/pdf")
    row = StoredFile.objects.get()
    assert visitor.get(reverse("price-preview", args=[row.pk])).status_code == 404
