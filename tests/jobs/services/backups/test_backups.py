"""A book saved and put back: every table's and file's digest as it was, or nothing changed."""

from __future__ import annotations

import json
import random
import shutil
import zipfile
from pathlib import Path

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection
from pytest_django import Settings

from jobs.domain.backups.manifest import Manifest, UnusableArchiveError
from jobs.domain.backups.retention import BackupKind
from jobs.models import Client, Company, Job, Mail, MailState, Room
from jobs.readers.backups.shelf import made_backups
from jobs.services.backups.archive import ArchiveWriter, new_key, opened
from jobs.services.backups.making import make_backup
from jobs.services.backups.restoring import LiveDataError, checked, restore
from jobs.services.files import path_of
from tests.builders import make_company, make_job, make_person, make_photo, make_planned_job

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture(autouse=True)
def shelves(settings: Settings, tmp_path: Path) -> Path:
    """Keep backups and files in folders of this test alone."""
    settings.BACKUP_FOLDER = str(tmp_path / "backups")
    settings.MEDIA_ROOT = tmp_path / "files"
    return tmp_path


@pytest.fixture
def book(shelves: Path) -> Company:
    """A company with an owner, a planned job and a photograph."""
    company = make_company()
    make_person(company)
    make_planned_job(company)
    make_photo(company)
    return company


def saved(**values: object) -> Path:
    """Where a backup made now lies."""
    from django.conf import settings

    backup = make_backup(kind=BackupKind.BY_HAND, **values)  # type: ignore[arg-type]
    return Path(settings.BACKUP_FOLDER) / backup.name


def contents(archive: Path) -> Manifest:
    """What an archive says of itself, once it was checked."""
    with opened(archive) as (_, manifest):
        return manifest


def wipe() -> None:
    """Lose the whole book."""
    from django.conf import settings

    call_command("flush", interactive=False, verbosity=0)
    shutil.rmtree(settings.MEDIA_ROOT)


def test_a_lost_book_comes_back_with_every_digest(book: Company) -> None:
    archive = saved()
    before = contents(archive)
    wipe()
    assert not Room.objects.exists()
    restore(archive)
    after = contents(saved())
    assert after.tables == before.tables
    assert after.files == before.files
    assert before.row_count > 10
    assert [path_of(file.name).is_file() for file in before.files] == [True]


def test_a_key_that_was_given_before_is_not_given_again(book: Company) -> None:
    gone = make_job(book)
    key = gone.pk
    gone.delete()
    archive = saved()
    wipe()
    restore(archive)
    assert make_job(Company.objects.get()).pk > key


def test_a_live_book_goes_only_by_the_flag_and_is_saved_first(book: Company) -> None:
    archive = saved()
    Client.objects.create(company=book, name="Ada Lind")
    with pytest.raises(LiveDataError):
        restore(archive)
    assert Client.objects.filter(name="Ada Lind").exists()
    done = restore(archive, over_live_data=True)
    assert not Client.objects.filter(name="Ada Lind").exists()
    assert done.saved_before
    restore(Path(archive).with_name(done.saved_before.name), over_live_data=True)
    assert Client.objects.filter(name="Ada Lind").exists()


def test_a_flipped_bit_is_refused_wherever_it_is(book: Company) -> None:
    archive = saved()
    content = archive.read_bytes()
    chance = random.Random(21)
    places = [0, len(content) - 1, *(chance.randrange(len(content)) for _ in range(60))]
    for place in places:
        spoiled = bytearray(content)
        spoiled[place] ^= 1 << chance.randrange(8)
        archive.write_bytes(spoiled)
        with pytest.raises(UnusableArchiveError):
            restore(archive, over_live_data=True)
    assert Job.objects.exists()


def test_an_archive_cut_short_is_refused(book: Company) -> None:
    archive = saved()
    archive.write_bytes(archive.read_bytes()[:-1000])
    with pytest.raises(CommandError, match=r"can't be restored.*Nothing was changed"):
        call_command("restore", str(archive))


def rewritten(archive: Path, **changes: object) -> None:
    """Write an archive anew with another list of contents or without a member; sealed like one."""
    from dataclasses import replace

    without = str(changes.pop("without", ""))
    place = archive.with_suffix(".new")
    writer = ArchiveWriter(place)
    with opened(archive) as (source, manifest):
        for name in manifest.members - {"manifest.json", without}:
            writer.add(name, [source.read(name)], packed=True)
        writer.close(replace(manifest, **changes))  # type: ignore[arg-type]
    place.replace(archive)


def test_a_missing_part_is_named(book: Company) -> None:
    archive = saved()
    rewritten(archive, without="tables/jobs_room.jsonl")
    with pytest.raises(UnusableArchiveError, match=r"tables/jobs_room.jsonl is missing"):
        restore(archive, over_live_data=True)


def test_unknown_migrations_are_refused_in_words(book: Company) -> None:
    archive = saved()
    known = contents(archive).migrations
    rewritten(archive, migrations=(*known, ("jobs", "9999_later")), version="9.0.0")
    with pytest.raises(UnusableArchiveError, match=r"Rowbook 9.0.0.*jobs.9999_later.*Install"):
        restore(archive, over_live_data=True)


def test_a_form_to_come_is_refused(book: Company, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as later:
        later.setattr("jobs.domain.backups.manifest.FORM", 2)
        archive = saved()
    with pytest.raises(UnusableArchiveError, match=r"the form 2 .* reads form 1"):
        restore(archive, over_live_data=True)


def test_encrypted_it_is_read_with_its_key_alone(book: Company) -> None:
    secret, recipient = new_key()
    archive = saved(recipient=recipient)
    assert archive.name.endswith(".zip.age")
    assert b"jobs_room" not in archive.read_bytes()
    with pytest.raises(UnusableArchiveError, match="--identity"):
        restore(archive, over_live_data=True)
    with pytest.raises(UnusableArchiveError, match="can't be decrypted"):
        restore(archive, identity=new_key()[0], over_live_data=True)
    wipe()
    restore(archive, identity=secret)
    assert Room.objects.exists()


def test_it_is_copied_into_the_second_folder(
    book: Company, settings: Settings, shelves: Path
) -> None:
    settings.BACKUP_COPY_TO = str(shelves / "disk")
    saved()
    assert made_backups()[0].copied_to == ""  # the disk is not mounted: said, and nothing spoiled
    (shelves / "disk").mkdir()
    archive = saved()
    assert made_backups()[0].copied_to == str(shelves / "disk")
    assert (shelves / "disk" / archive.name).read_bytes() == archive.read_bytes()


def test_a_file_that_was_gone_is_told_and_the_rest_is_saved(book: Company) -> None:
    (name,) = [file.name for file in contents(saved()).files]
    path_of(name).unlink()
    manifest = contents(saved())
    assert (manifest.missing, manifest.files) == ((name,), ())
    assert made_backups()[0].missing == 1


def test_mail_that_waited_is_not_sent_by_itself_after_a_restore(book: Company) -> None:
    Mail.objects.create(company=book, kind="quote", about="quote:1", key="k", to="a@example.com")
    archive = saved()
    restore(archive, over_live_data=True)
    assert Mail.objects.get().state == MailState.UNSURE


def test_a_backup_cut_off_leaves_no_good_name(
    book: Company, shelves: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as full:
        full.setattr("jobs.services.backups.making._write_files", broken)
        with pytest.raises(OSError, match="No space"):
            saved()
    assert list((shelves / "backups").iterdir()) == []
    assert made_backups() == []


def test_an_archive_names_its_tables_by_row_lines(book: Company) -> None:
    with zipfile.ZipFile(saved()) as archive:
        lines = archive.read("tables/jobs_room.jsonl").splitlines()
    rows = [json.loads(line) for line in lines]
    assert [row["name"] for row in rows] == [room.name for room in Room.objects.order_by("pk")]


def test_checking_changes_nothing(book: Company) -> None:
    archive = saved()
    with checked(archive) as (_, manifest):
        assert manifest.engine == connection.vendor
    assert Job.objects.count() == 1
