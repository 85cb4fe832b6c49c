"""Stored documents that are no longer as they were stored: ways to spoil one, and what is said."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from jobs.domain.documents import digest
from jobs.models import Document


@dataclass(frozen=True, kw_only=True, slots=True)
class Spoil:
    """A way to spoil a document: its text, what stands beside that, what the refusal says."""

    said: str
    text: Callable[[str], str] = str
    beside: dict[str, Any] = field(default_factory=dict)


SPOILS = {
    "edited": Spoil(
        text=lambda text: f"{text} ",
        beside={"sha256": digest("as it was stored")},
        said=r"sha256 is '\w{12}…'; accepted: \w{12}…, the digest it was stored with",
    ),
    "of format 9": Spoil(
        text=lambda text: text.replace('"format":1', '"format":9'),
        beside={"format": 9},
        said=r"format is 9; accepted: 1( to \d)?\.",
    ),
    "of format 9 beside its text": Spoil(
        beside={"format": 9}, said=r"format is 9; accepted: 1, as its text says"
    ),
    "of another kind": Spoil(beside={"kind": "letter"}, said=r"kind is 'letter'; accepted: "),
    "cut off": Spoil(text=lambda text: text[:-1], said=r"accepted: a JSON document"),
    "emptied": Spoil(text=lambda _: "{}", said=r"accepted: "),
}


def rewrite(document: Document, text: str, **beside: Any) -> None:
    """Put another text into the books, and its digest unless ``beside`` has one."""
    values = {"text": text, "sha256": digest(text)} | beside
    Document.objects.filter(pk=document.pk).update(**values)
    document.refresh_from_db()


def spoil(document: Document, how: str = "edited") -> None:
    """Spoil a stored document in one of the ways of `SPOILS`."""
    rewrite(document, SPOILS[how].text(document.text), **SPOILS[how].beside)
