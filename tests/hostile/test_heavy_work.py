"""Pictures and papers are written anew before a transaction: on SQLite everybody waits for one."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pytest
from django.db import transaction
from PIL import Image

from estimates.services.purchases import add_purchase, change_purchase
from jobs.models import Job, Product, User
from jobs.services.log import Photo
from jobs.services.products.products import change_product
from jobs.services.products.sheets import SheetSent

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def inside(monkeypatch: pytest.MonkeyPatch) -> list[bool]:
    """Whether each picture was opened inside a transaction."""
    seen: list[bool] = []
    opened = Image.open

    def noted(*args: object, **kwargs: object) -> Image.Image:
        seen.append(transaction.get_connection().in_atomic_block)
        return opened(*args, **kwargs)  # type: ignore[arg-type]

    monkeypatch.setattr(Image, "open", noted)
    return seen


def a_picture() -> BytesIO:
    """Return a small photograph."""
    written = BytesIO()
    Image.new("RGB", (40, 30), "tan").save(written, "JPEG")
    written.seek(0)
    return written


def a_receipt() -> Photo:
    """Return a photograph as a form hands it on."""
    return Photo(upload=a_picture(), size=1000, name="receipt.jpg")


def test_a_receipt_is_opened_before_the_purchase_is_written(
    owner: User, job: Job, inside: list[bool]
) -> None:
    values = {"code": "caulk", "label": "Caulk", "quantity": 2, "unit": "tube", "amount": 8}
    values |= {"bought_on": date(2027, 3, 1)}
    row = add_purchase(job=job, user=owner, key="k1", values=values, receipt=a_receipt())
    first = row.receipt
    changed = change_purchase(
        purchase=row, user=owner, key="k2", expected=1, values=values, receipt=a_receipt()
    )
    assert inside == [False, False]
    assert changed.receipt == first is not None


def test_a_sheet_is_opened_before_the_product_is_written(
    owner: User, job: Job, inside: list[bool]
) -> None:
    sheet = SheetSent(upload=a_picture(), size=1000, name="sheet.jpg")
    product = Product.objects.latest("pk")
    changed = change_product(
        product=product, user=owner, key="k3", expected=product.version, values={}, sheet=sheet
    )
    assert inside == [False]
    assert changed.sheet is not None
