"""Every book that a release left opens today: its pages, its documents, its papers.

A book is read into a database and a file folder of its own, so what a migration can't undo, or a
test that fails half way, leaves the other tests' database as it was.
"""

from __future__ import annotations

import hashlib
import json
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from _pytest.mark.structures import ParameterSet
from django.apps import apps
from django.contrib.auth import get_user_model
from django.db import transaction
from django.test import Client, override_settings
from django.urls import reverse
from pytest_django import DjangoDbBlocker

from jobs.domain.days.placed.reasons import day_words
from jobs.domain.packet.content import PACKET
from jobs.domain.plans.stored import REQUEST
from jobs.models import FloorZone, Job, Packet
from jobs.readers.packets.standing import packet_standings
from jobs.readers.plan_request import request_of, whats_changed
from jobs.readers.stored_packet import stored_packet
from jobs.services.packets import print_packet
from tests.books.addresses import MOST_FILES, addresses
from tests.books.book import BOOKS, Book, empty_database, kept_books, open_book, read_in
from tests.books.keep import keep

NOBODY = "nobody"
FEW_ROWS = {"estimator": 2, "crew": 2}
"""Who looks at few rows of each address: the owner sees all that they see, of all the others."""
HIDDEN = (400, 401, 403, 404, 410)


@dataclass(frozen=True, kw_only=True, slots=True)
class PageAnswer:
    """What somebody got who looked at an address; ``fault`` is what a view stumbled over."""

    role: str
    name: str
    path: str
    status: int
    fault: str
    sha256: str

    def __str__(self) -> str:
        return f"{self.role}, {self.path}: {self.status} {self.fault}".strip()


def read_by_one() -> Iterator[ParameterSet]:
    """Yield every kept book; each is read once, by one of the processes that share the tests."""
    for folder in kept_books():
        yield pytest.param(folder, id=folder.name, marks=pytest.mark.xdist_group(folder.name))


@pytest.fixture(scope="module", params=read_by_one())
def book(
    request: pytest.FixtureRequest,
    django_db_setup: None,
    django_db_blocker: DjangoDbBlocker,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Book]:
    """A kept book, migrated to today, with its files where files are looked for."""
    kept, place = open_book(request.param), tmp_path_factory.mktemp("book")
    files = shutil.copytree(kept.folder / "files", place / "files")
    with (
        django_db_blocker.unblock(),
        empty_database(place),
        override_settings(MEDIA_ROOT=files),
    ):
        read_in(kept)
        yield kept


@pytest.fixture(scope="module")
def answers(book: Book) -> tuple[PageAnswer, ...]:
    """What somebody of each role, and somebody who did not sign in, gets at every address."""
    people = get_user_model()._default_manager.order_by("-pk")
    visitors = {NOBODY: Client(raise_request_exception=False)}
    for person in people:
        visitors[person.role] = Client(raise_request_exception=False)
        visitors[person.role].force_login(person)
    return tuple(
        look(role, visitor, name, path)
        for role, visitor in visitors.items()
        for name, path in addresses(FEW_ROWS.get(role, MOST_FILES))
    )


def look(role: str, visitor: Client, name: str, path: str) -> PageAnswer:
    """Return what the visitor gets at a path."""
    response = visitor.get(path)
    _, fault, _ = getattr(response, "exc_info", None) or (None, "", None)
    return PageAnswer(
        role=role,
        name=name,
        path=path,
        status=response.status_code,
        fault=repr(fault) if fault else "",
        sha256=hashlib.sha256(response.getvalue()).hexdigest(),
    )


def texts(name: str, kind: str) -> list[str]:
    """Return the texts of one kind of document in a kept book."""
    lines = (BOOKS / name / "rows" / "jobs.Document.jsonl").read_text(encoding="utf-8")
    rows = [json.loads(line) for line in lines.splitlines()]
    return [row["text"] for row in rows if row["kind"] == kind]


def test_the_first_book_is_still_here() -> None:
    assert kept_books()[0].name == "0_2"


def test_no_page_of_a_kept_book_fails_for_anybody(answers: tuple[PageAnswer, ...]) -> None:
    assert [str(answer) for answer in answers if answer.status >= 500] == []


def test_everybody_is_among_those_who_look(answers: tuple[PageAnswer, ...]) -> None:
    assert {answer.role for answer in answers} == {NOBODY, "owner", "estimator", "crew"}


def test_no_page_of_a_kept_book_is_hidden_from_its_owner(answers: tuple[PageAnswer, ...]) -> None:
    owners = [answer for answer in answers if answer.role == "owner"]
    assert [str(answer) for answer in owners if answer.status in HIDDEN] == []


def test_a_kept_link_still_opens_its_quote(answers: tuple[PageAnswer, ...]) -> None:
    by_link = [one for one in answers if (one.role, one.name) == (NOBODY, "quote-public")]
    assert {answer.status for answer in by_link} == {200}


def test_a_link_that_was_sent_when_links_were_kept_in_clear_opens_its_quote(book: Book) -> None:
    lines = (book.folder / "rows" / "estimates.Quote.jsonl").read_text(encoding="utf-8")
    sent = [row["token"] for row in map(json.loads, lines.splitlines()) if "token" in row]
    visitor = Client(raise_request_exception=False)
    opened = {visitor.get(f"/q/{token}").status_code for token in sent}
    assert opened == ({200} if sent else set())


def test_a_kept_link_serves_the_pdf_that_was_issued(
    book: Book, answers: tuple[PageAnswer, ...]
) -> None:
    quotes = apps.get_model("estimates", "Quote")._default_manager.all()
    by_link = [one for one in answers if (one.role, one.name) == (NOBODY, "quote-public-file")]
    issued = {f"/q/{quote.token}/file": book.files[quote.pdf_id] for quote in quotes}
    assert {answer.path: answer.sha256 for answer in by_link} == issued


def test_every_kept_file_is_served_as_it_was_stored(
    book: Book, answers: tuple[PageAnswer, ...]
) -> None:
    served = {answer.sha256 for answer in answers if answer.role == "owner"}
    assert {key for key, sha256 in book.files.items() if sha256 not in served} == set()


def test_every_frozen_document_bears_the_digest_it_was_kept_with(book: Book) -> None:
    documents = apps.get_model("jobs", "Document")._default_manager
    assert dict(documents.values_list("pk", "sha256")) == book.documents


def test_every_frozen_document_still_has_the_text_of_its_digest(book: Book) -> None:
    texts = apps.get_model("jobs", "Document")._default_manager.values_list("pk", "text")
    digests = {key: hashlib.sha256(text.encode()).hexdigest() for key, text in texts}
    assert digests == book.documents


def test_a_row_added_to_a_kept_book_gets_a_key_of_its_own(book: Book) -> None:
    clients = apps.get_model("jobs", "Company")._default_manager.get().clients
    kept = set(clients.values_list("pk", flat=True))
    with transaction.atomic():
        added = clients.create(name="Noor Vale")
        transaction.set_rollback(True)
    assert added.pk not in kept


def test_every_plan_of_format_1_is_shown_and_drawn_as_one_of_older_rules(book: Book) -> None:
    owner = Client()
    owner.force_login(get_user_model()._default_manager.get(role="owner"))
    plans = apps.get_model("jobs", "FloorPlan")._default_manager.filter(document__format=1)
    for pk in plans.values_list("pk", flat=True):
        for name in ("plan", "plan-cuts"):
            page = owner.get(reverse(name, args=[pk])).content.decode()
            assert "Planned under older rules" in page
            assert "<svg" in page


def test_no_floor_of_a_kept_book_is_outdated_by_an_upgrade(book: Book) -> None:
    floors = apps.get_model("jobs", "FloorZone")._default_manager.filter(plans__isnull=False)
    newest = [floor.plans.latest() for floor in floors.distinct()]
    assert newest
    assert [str(plan) for plan in newest if whats_changed(plan)] == []


def test_no_packet_of_a_kept_book_is_outdated_by_an_upgrade(book: Book) -> None:
    jobs = packed_jobs()
    said_on_pages = {pk: list(now.changed) for pk, now in packet_standings(jobs).items()}
    assert said_on_pages == {job.pk: changed_since(job.packets.latest("number")) for job in jobs}
    assert said_on_pages


def test_a_packet_of_todays_form_is_not_printed_again_for_an_upgrade(book: Book) -> None:
    newest = [job.packets.latest("number") for job in packed_jobs()]
    of_today = [one for one in newest if one.document.format == PACKET.newest]
    assert of_today or min(one.document.format for one in newest) < PACKET.newest
    for packet in of_today:
        assert changed_since(packet) or print_packet(packet.job) is None


def packed_jobs() -> list[Job]:
    """Return the open jobs whose crew has a packet in hand."""
    return list(Job.objects.filter(packets__isnull=False, closed_at=None).distinct())


def changed_since(packet: Packet) -> list[str]:
    """Return what the crew's packet says otherwise than the rows do: floors and days, no more."""
    return [*planned_since(packet), *moved_since(packet)]


def moved_since(packet: Packet) -> list[str]:
    """Return what a moved day says otherwise than was printed, from the rows themselves.

    That is its date and, since a wait counts from the date, until when something waits. What a
    packet of before was made from stands beside none, so that of it only the date is known.
    """
    rows = {day.number: day for day in packet.job.days.all()}
    changed = []
    for printed in stored_packet(packet)["days"]:
        number, day = printed["number"], rows[printed["number"]]
        if day.date == printed["date"]:
            continue
        then, now = day_words(printed["date"]), day_words(day.date)
        changed.append(f"Day {number} is on {now} now, not on {then}.")
        if packet.basis and list(printed["notes"]) != day.notes:
            changed.append(f"Day {number} has other work, rows or hours.")
    return changed


def planned_since(packet: Packet) -> list[str]:
    """Return the floors whose rest was planned again since the packet, from the rows themselves."""
    newest = {zone.name: newest_rest(zone) for zone in packet.job.zones.all()}
    return [
        f"{floor['name']} is laid by plan {newest[floor['name']]} now, not by plan {floor['plan']}."
        for floor in stored_packet(packet)["floors"]
        if newest[floor["name"]] > floor["plan"]
    ]


def newest_rest(zone: FloorZone) -> int:
    """Return the number of the newest plan of what was left of a floor; 0 where none was made."""
    plans = zone.plans.select_related("request")
    return max((one.number for one in plans if json.loads(one.request.text).get("laid")), default=0)


def test_a_floor_of_a_kept_book_is_still_asked_for(book: Book) -> None:
    for floor in apps.get_model("jobs", "FloorZone")._default_manager.all():
        assert request_of(floor)["format"] == REQUEST.newest


def test_the_book_of_0_3_holds_every_kind_of_plan_of_format_2() -> None:
    plans = [json.loads(text) for text in texts("0_3", "plan")]
    requests = [json.loads(text) for text in texts("0_3", "request")]
    assert {plan["format"] for plan in plans} == {2}
    assert any((plan.get("bought") or {}).get("planks") for plan in plans)
    assert any(plan["totals"]["shortage"].get("piles") for plan in plans)
    assert any(piece.get("variant") for plan in plans for piece in plan["pieces"])
    assert any(request.get("laid") for request in requests)


def test_the_packets_of_the_book_of_0_3_tell_planks_by_pile() -> None:
    packets = [json.loads(text) for text in texts("0_3", "packet")]
    assert {packet["format"] for packet in packets} == {2}
    assert any(load["piles"] for packet in packets for load in packet["loads"])


def test_nobody_signs_in_with_what_a_book_holds(book: Book) -> None:
    people = get_user_model()._default_manager.all()
    assert not any(person.has_usable_password() for person in people)


def test_a_book_kept_again_holds_the_same(book: Book, tmp_path: Path) -> None:
    keep(tmp_path / "again")
    again = open_book(tmp_path / "again")
    assert (again.documents, again.files) == (book.documents, book.files)
