"""Photographs of a log: several, bare of all but their picture, seen by who may."""

from __future__ import annotations

from io import BytesIO
from zipfile import ZipFile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Visitor
from django.urls import reverse
from PIL import Image, ImageCms

from jobs.models import (
    Job,
    LogEntry,
    LogPhoto,
    User,
    WorkDay,
)
from jobs.services.files import read_file
from tests.builders import make_company, make_person
from tests.jobs.services.day_log.a_phone import a_picture, hours, phone_of, sent

pytestmark = pytest.mark.django_db


def test_a_picture_of_forty_megabytes_and_what_is_none_are_refused_and_nothing_is_written(
    day: WorkDay, lead: User
) -> None:
    large = SimpleUploadedFile("den.jpg", bytes(40 * 1024 * 1024), content_type="image/jpeg")
    assert "40 MB" in sent(lead, day, 422, **hours(lead, "1"), photos=large)
    other = SimpleUploadedFile("den.jpg", b"<html>hello", content_type="image/jpeg")
    assert "a picture: JPEG, PNG or WebP" in sent(lead, day, 422, photos=other)
    assert not LogEntry.objects.exists()


def test_photographs_from_before_and_after_the_same_spot_go_together(
    day: WorkDay, lead: User
) -> None:
    sent(lead, day, before=[a_picture(), a_picture()])
    first = LogPhoto.objects.order_by("pk")[0]
    page = phone_of(lead).get(reverse("log-add", args=[day.pk])).content.decode()
    assert "Before 2, Mar 1" in page
    sent(lead, day, key="k2", after=a_picture(), after_of=first.pk, photos=a_picture())
    after = LogPhoto.objects.get(side="after")
    assert after.before == first
    assert LogPhoto.objects.filter(side="beside").count() == 1


def test_remarks_and_places_of_a_photograph_are_gone(day: WorkDay, lead: User) -> None:
    exif = Image.Exif()
    exif[0x010E] = "where this was taken"  # ImageDescription, Exif 2.3, table 3
    exif.get_ifd(0x8825)[2] = (45.0, 31.0, 0.0)  # GPSLatitude, Exif 2.3, table 15
    sent(lead, day, photos=a_picture("said by the camera", exif=exif))
    content = read_file(LogPhoto.objects.get().file)
    assert b"said by the camera" not in content
    assert b"where this was taken" not in content
    with Image.open(BytesIO(content)) as kept:
        assert dict(kept.getexif()) == {}
        assert "comment" not in kept.info


def archive() -> bytes:
    """A small archive."""
    out = BytesIO()
    with ZipFile(out, "w") as packed:
        packed.writestr("run.js", "alert(1)")
    return out.getvalue()


@pytest.mark.parametrize(
    "more", [b"<script>alert(1)</script>", b"<!DOCTYPE HTML><body>", b"<?php x();", archive()]
)
def test_a_picture_that_is_something_else_too_is_refused(
    day: WorkDay, lead: User, more: bytes
) -> None:
    picture = a_picture().read() + more
    upload = SimpleUploadedFile("den.jpg", picture, content_type="image/jpeg")
    assert "a picture and nothing else" in sent(lead, day, 422, photos=upload)
    assert not LogPhoto.objects.exists()


def test_a_remark_with_a_page_in_it_is_refused_too(day: WorkDay, lead: User) -> None:
    said = sent(lead, day, 422, photos=a_picture("<html onload=x>"))
    assert "a picture and nothing else" in said


def test_a_profile_of_colors_is_used_up_and_not_kept(day: WorkDay, lead: User) -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    sent(lead, day, photos=a_picture(icc_profile=profile))
    with Image.open(BytesIO(read_file(LogPhoto.objects.get().file))) as kept:
        assert "icc_profile" not in kept.info
        red, green, blue = kept.convert("RGB").getpixel((5, 5))  # type: ignore[misc]
    tan = (210, 180, 140)
    assert all(abs(a - b) < 6 for a, b in zip((red, green, blue), tan, strict=True))


def test_a_photograph_is_served_only_to_who_may_see_the_job(
    job: Job, day: WorkDay, lead: User
) -> None:
    sent(lead, day, photos=a_picture())
    address = reverse("log-shot", args=[LogPhoto.objects.get().pk])
    other_crew = make_person(job.company, "crew")
    stranger = make_person(make_company("Other Floors"))
    statuses = [phone_of(who).get(address).status_code for who in (lead, other_crew, stranger)]
    assert [*statuses, Visitor().get(address).status_code] == [200, 404, 404, 302]


BEHIND = {
    "paper": bytes(2048) + b"%PDF-1.7\n1 0 obj\n<</Type /Catalog>>\nendobj\n%%EOF\n",
    "film": b"\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom",  # ISO/IEC 14496-12, from memory
    "light": b"#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 1 +X 1\n",
    "anything": bytes(range(256)) * 8,
}


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("more", BEHIND.values(), ids=list(BEHIND))
def test_what_lies_behind_the_end_of_a_picture_is_neither_kept_nor_served(
    day: WorkDay, lead: User, kind: str, more: bytes
) -> None:
    upload = SimpleUploadedFile("den.jpg", a_picture(kind=kind).read() + more)
    sent(lead, day, photos=upload)
    shot = LogPhoto.objects.get()
    served = phone_of(lead).get(reverse("log-shot", args=[shot.pk]))
    content = b"".join(served.streaming_content)  # type: ignore[attr-defined]
    assert content == read_file(shot.file)
    assert more[-16:] not in content
    # EOI, ITU-T T.81, B.1.1.3: the first one that ends a picture ends the file.
    assert (content[:2], content[-2:], content.count(b"\xff\xd9")) == (b"\xff\xd8", b"\xff\xd9", 1)
