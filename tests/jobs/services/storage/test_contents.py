"""Contents in whatever storage is named: kept, read, saved, restored and swept through it alone."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.core.files.storage import InMemoryStorage, default_storage, storages
from django.utils import timezone
from pytest_django import Settings

from installer_site import env
from jobs.domain.backups.retention import BackupKind
from jobs.domain.formats import BrokenDocumentError
from jobs.readers.backups.shelf import made_backups, shelf
from jobs.services.backups.archive import opened
from jobs.services.backups.making import make_backup
from jobs.services.backups.restoring import put_files
from jobs.services.files import path_of, read_file, store_file
from jobs.services.storage.contents import contents, drop_content
from jobs.services.storage.folder import SafeFolder
from jobs.services.sweeping.orphans import sweep_contents
from tests.builders import make_company, make_photo

pytestmark = pytest.mark.django_db

FOLDER = "jobs.services.storage.folder.SafeFolder"


@pytest.fixture(params=[FOLDER, "django.core.files.storage.InMemoryStorage"])
def named(request: pytest.FixtureRequest, settings: Settings, tmp_path: Path) -> str:
    """The storage of files: our folder, then one that has no folder at all."""
    settings.MEDIA_ROOT = tmp_path / "files"
    settings.BACKUP_FOLDER = str(tmp_path / "backups")
    settings.STORAGES = settings.STORAGES | {"default": {"BACKEND": request.param}}
    return str(request.param)


def test_a_file_is_kept_read_saved_restored_and_swept(named: str, tmp_path: Path) -> None:
    assert isinstance(default_storage, SafeFolder if named == FOLDER else InMemoryStorage)
    stored = make_photo(make_company())
    content = read_file(stored)
    make_backup(kind=BackupKind.BY_HAND)
    (made,) = made_backups()
    drop_content(stored.sha256)
    with pytest.raises(BrokenDocumentError, match="not in the folder of files"):
        read_file(stored)
    with opened(shelf() / made.name) as (archive, manifest):
        assert [file.sha256 for file in manifest.files] == [stored.sha256]
        put_files(archive, manifest)
        put_files(archive, manifest)  # there already
    assert read_file(stored) == content
    stored.delete()
    assert sweep_contents(timezone.now()) == 0  # it is new, a row may be on its way
    assert sweep_contents(timezone.now() + timedelta(days=3)) == 1
    assert list(contents()) == []
    assert (tmp_path / "files").exists() is (named == FOLDER)


def test_a_spoiled_content_is_put_right(named: str) -> None:
    stored = make_photo(make_company())
    content = read_file(stored)
    make_backup(kind=BackupKind.BY_HAND)
    (made,) = made_backups()
    name = next(name for name, _ in contents())
    with default_storage.open(name, "wb") as out:
        out.write(b"spoiled")
    with pytest.raises(BrokenDocumentError, match="of the digest"):
        read_file(stored)
    with opened(shelf() / made.name) as (archive, manifest):
        put_files(archive, manifest)
    assert read_file(stored) == content


def test_a_content_that_breaks_off_leaves_nothing_under_its_name(
    settings: Settings, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.MEDIA_ROOT = tmp_path
    company = make_company()

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        store_file(company=company, content=b"x", name="x", content_type="text/plain")
    assert [place.suffix for place in tmp_path.rglob("*") if place.is_file()] == [".part"]
    monkeypatch.undo()
    settings.MEDIA_ROOT = tmp_path
    kept = store_file(company=company, content=b"x", name="x", content_type="text/plain")
    assert path_of(kept.sha256).read_bytes() == b"x"


def test_the_environment_names_a_storage_as_django_has_it() -> None:
    assert env.read_storage({}, "FILES_STORAGE") == {"BACKEND": FOLDER}
    entry = '{"BACKEND": "a.storage.Bucket", "OPTIONS": {"bucket": "files"}}'
    assert env.read_storage({"FILES_STORAGE": entry}, "FILES_STORAGE") == {
        "BACKEND": "a.storage.Bucket",
        "OPTIONS": {"bucket": "files"},
    }


@pytest.mark.parametrize("value", ["bucket", "[]", "{}", '{"BACKEND": 1}', '{"BACKEND":"a","x":1}'])
def test_a_storage_that_is_none_is_refused_by_name(value: str) -> None:
    with pytest.raises(ImproperlyConfigured, match="FILES_STORAGE"):
        env.read_storage({"FILES_STORAGE": value}, "FILES_STORAGE")


def test_what_is_named_is_what_django_opens() -> None:
    assert isinstance(storages["default"], SafeFolder)
