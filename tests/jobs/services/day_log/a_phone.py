"""A phone in the hand of one of the crew: what it sends, and what it is told."""

from __future__ import annotations

from io import BytesIO
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Visitor
from django.urls import reverse
from PIL import Image

from jobs.models import (
    User,
    WorkDay,
)


def phone_of(person: User) -> Visitor:
    """The browser of a person."""
    signed_in = Visitor()
    signed_in.force_login(person)
    return signed_in


def sent(person: User, day: WorkDay, status: int = 303, /, **values: Any) -> str:
    """Send a crew's log; return the page or the reasons. Names come with `_` for the hyphen."""
    form = {"key": "k1", "crew": "yes", "scope": day.scope_id}
    form |= {name.replace("__", "-"): value for name, value in values.items()}
    later = {"X-Rowbook-Log": "later"} if status in (201, 422) else {}
    answer = phone_of(person).post(reverse("log-add", args=[day.pk]), form, headers=later)
    assert answer.status_code == status, answer.content.decode()[:2000]
    return answer.content.decode()


def hours(person: User, amount: str, task: str = "setup__0") -> dict[str, str]:
    """The field of a person's hours at a task."""
    return {f"hours__{task}__{person.pk}": amount}


def a_picture(text: str = "", kind: str = "JPEG", **info: Any) -> SimpleUploadedFile:
    """A small photograph; ``text`` is a remark in the file."""
    out = BytesIO()
    if text:
        info |= {"comment": text.encode()}
    Image.new("RGB", (40, 30), "tan").save(out, kind, **info)
    return SimpleUploadedFile(f"den.{kind.lower()}", out.getvalue(), content_type="image/jpeg")
