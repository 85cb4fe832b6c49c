"""What a reader of money hands out is what was stored; whatever is not is refused."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from estimates.models import ChangeOrder, Estimate, Quote
from estimates.readers.orders.stored import stored_order
from estimates.readers.prices import priced_of
from estimates.readers.quote import stored_quote
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Document
from tests.builders import make_company
from tests.estimates.kept import FOLDER
from tests.jobs.kept import kept, kept_document
from tests.jobs.spoiled import SPOILS, spoil

pytestmark = pytest.mark.django_db

READERS: dict[str, Callable[[Document], object]] = {
    "estimate": lambda document: priced_of(Estimate(document=document)),
    "quote": lambda document: stored_quote(Quote(document=document)),
    "change-order": lambda document: stored_order(ChangeOrder(document=document)),
}


def document_of(kind: str) -> Document:
    """A stored document with the text of format 1 that was kept."""
    return kept_document(make_company(), kind, kept(f"{kind}-1", FOLDER))


@pytest.mark.parametrize("kind", READERS)
def test_a_kept_text_is_read(kind: str) -> None:
    assert READERS[kind](document_of(kind))


@pytest.mark.parametrize("how", SPOILS)
@pytest.mark.parametrize("kind", READERS)
def test_a_spoiled_document_is_refused(kind: str, how: str) -> None:
    document = document_of(kind)
    spoil(document, how)
    with pytest.raises(BrokenDocumentError, match=SPOILS[how].said):
        READERS[kind](document)


@pytest.mark.parametrize("kind", READERS)
def test_the_refusal_says_which_document_it_is(kind: str) -> None:
    document = document_of(kind)
    spoil(document)
    with pytest.raises(BrokenDocumentError, match=rf"document {document.pk} of the books"):
        READERS[kind](document)
