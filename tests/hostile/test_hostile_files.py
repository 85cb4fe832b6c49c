"""Two hundred files at every door that takes one: kept clean, or refused in words."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from pytest_django import Settings

from estimates.services.price_import import keep_price_file, sheet_in
from estimates.services.setup.logo import logo_png
from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.models import Company
from jobs.services.files import read_file, store_picture
from jobs.services.products.sheets import SheetSent, store_sheet
from tests.builders import make_company
from tests.hostile.spoiled_files import SECRET, sound_files, spoiled_files

pytestmark = [
    pytest.mark.django_db,
    # Of a spoiled picture its reader warns in the log, where the site goes on.
    pytest.mark.filterwarnings("ignore::UserWarning:PIL"),
]

COUNT, SEED = 200, 12
NAME = "../../etc/passwd\r\n<b>.jpg"

Door = Callable[[Company, bytes], bytes]
"""What takes a file and returns what is kept of it."""


@pytest.fixture(name="company")
def the_company(settings: Settings, tmp_path: Path) -> Company:
    """A company with a folder of files of its own."""
    settings.MEDIA_ROOT = tmp_path / "files"
    return make_company()


def photograph(company: Company, content: bytes) -> bytes:
    upload = BytesIO(content)
    return read_file(store_picture(company=company, upload=upload, size=len(content), name=NAME))


def sheet(company: Company, content: bytes) -> bytes:
    sent = SheetSent(upload=BytesIO(content), size=len(content), name=NAME)
    return read_file(store_sheet(company=company, sent=sent))


def logo(company: Company, content: bytes) -> bytes:
    return logo_png(BytesIO(content), size=len(content), name=NAME)


def prices(company: Company, content: bytes) -> bytes:
    stored = keep_price_file(company=company, content=content, name=NAME)
    sheet_in(stored, today=today_of(company))
    return b""


def answers(door: Door, company: Company) -> tuple[list[str], list[bytes]]:
    """Return what goes wrong otherwise than in words, and all that is kept."""
    faults, kept = [], []
    for way, content in spoiled_files(COUNT, seed=SEED):
        try:
            kept.append(door(company, content))
        except BadValueError:
            continue
        except Exception as fault:  # noqa: BLE001  every other answer is a fault of the program
            faults.append(f"{way}: {fault!r}")
    return faults, kept


@pytest.mark.parametrize("door", [photograph, sheet, logo, prices])
def test_every_file_is_kept_clean_or_refused_in_words(company: Company, door: Door) -> None:
    faults, kept = answers(door, company)
    assert faults == []
    assert kept
    assert [content for content in kept if SECRET in content] == []


@pytest.mark.parametrize("kind", ["jpeg", "cmyk", "png", "palette", "webp"])
def test_a_photograph_is_a_plain_jpeg_without_a_remark(company: Company, kind: str) -> None:
    kept = photograph(company, sound_files()[kind])
    with Image.open(BytesIO(kept)) as picture:
        assert picture.format == "JPEG"
        assert not {"exif", "comment", "icc_profile"} & set(picture.info)
    upright = kind in ("jpeg", "png", "webp")  # the camera was held on its side
    with Image.open(BytesIO(kept)) as picture:
        assert picture.size == ((64, 96) if upright else (96, 64))


def test_a_name_leads_nowhere(company: Company) -> None:
    content = sound_files()["jpeg"]
    upload = BytesIO(content)
    stored = store_picture(company=company, upload=upload, size=len(content), name=NAME)
    assert "/" not in stored.name
    assert ".." not in stored.name
