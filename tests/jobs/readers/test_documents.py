"""What a reader hands out is what was stored; whatever is not is refused, by each in its words."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from jobs.domain.formats import BrokenDocumentError
from jobs.models import Document, FloorPlan, Job, Packet, Scope, StoredFile
from jobs.readers.scope import scope_value
from jobs.readers.stored_packet import stored_packet
from jobs.readers.stored_plan import stored_plan
from jobs.services.files import path_of, read_file, store_file
from tests.builders import make_company, make_job, make_room, make_zone
from tests.jobs.kept import a_scope, kept, kept_document
from tests.jobs.spoiled import SPOILS, rewrite, spoil

pytestmark = pytest.mark.django_db

READERS: dict[str, Callable[[Job], object]] = {
    "plan": lambda job: stored_plan(FloorPlan.objects.get(zone__job=job)),
    "request": lambda job: stored_plan(FloorPlan.objects.get(zone__job=job)),
    "scope": lambda job: scope_value(job.scopes.get()),
    "packet": lambda job: stored_packet(job.packets.get()),
}


def a_file(job: Job, content: bytes = b"a packet") -> StoredFile:
    """A stored file; what lies under one content is shared by all tests."""
    return store_file(
        company=job.company, content=content, name="p.pdf", content_type="application/pdf"
    )


@pytest.fixture
def job() -> Job:
    """A job whose plan, scope and packet are texts of format 1 that were kept."""
    job = make_job(make_company())
    documents = {name: kept_document(job.company, name, kept(f"{name}-1")) for name in READERS}
    zone = make_zone(make_room(job))
    counts = {"planks": 10, "cartons": 2, "lower_bound": 9, "proven": False}
    FloorPlan.objects.create(
        zone=zone, number=1, document=documents["plan"], request=documents["request"], **counts
    )
    Scope.objects.create(job=job, number=1, document=documents["scope"], hours=a_scope().hours)
    Packet.objects.create(job=job, number=2, document=documents["packet"], pdf=a_file(job))
    return job


@pytest.mark.parametrize("kind", READERS)
def test_a_kept_text_is_read(kind: str, job: Job) -> None:
    assert READERS[kind](job)


@pytest.mark.parametrize("how", SPOILS)
@pytest.mark.parametrize("kind", READERS)
def test_a_spoiled_document_is_refused(kind: str, how: str, job: Job) -> None:
    spoil(Document.objects.get(kind=kind), how)
    with pytest.raises(BrokenDocumentError, match=SPOILS[how].said):
        READERS[kind](job)


@pytest.mark.parametrize("kind", READERS)
def test_the_refusal_names_kind_and_document(kind: str, job: Job) -> None:
    document = Document.objects.get(kind=kind)
    spoil(document)
    with pytest.raises(BrokenDocumentError) as refused:
        READERS[kind](job)
    assert refused.value.kind == kind
    assert refused.value.name == f"document {document.pk} of the books"


def test_a_scope_whose_hours_are_not_the_sum_of_its_tasks_is_refused(job: Job) -> None:
    document = Document.objects.get(kind="scope")
    rewrite(document, document.text.replace('"hours":"14.50"', '"hours":"14.00"'))
    with pytest.raises(BrokenDocumentError, match=r"scope.hours is '14.00'; accepted: 14.50"):
        READERS["scope"](job)


def test_a_file_whose_content_is_another_is_refused(job: Job) -> None:
    stored = a_file(job, b"a file that is edited later")
    path_of(stored.sha256).write_bytes(b"edited")
    with pytest.raises(BrokenDocumentError, match=r"file \d+, p.pdf\) can't be read: it is of the"):
        read_file(stored)


def test_a_file_that_is_gone_is_refused(job: Job) -> None:
    stored = a_file(job, b"a file that is removed later")
    path_of(stored.sha256).unlink()
    with pytest.raises(BrokenDocumentError, match=r"it is not in the folder of files; accepted: "):
        read_file(stored)
