"""The form of a stored document: its kind, its formats, and the way from an old one to the newest.

A form that changes gets one more upgrade and nothing else here; the text in the books stays:

    SCOPE = DocumentForm(kind="scope", word="scope", upgrades=(adding("tolerance", "0.25"),))

reads the scopes of format 1 with that tolerance, those of format 2 with their own, and writes
format 2. A text without a format is of format 1.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from jobs.domain.checks import BadValueError

# A parsed text: what stands under a key, only the reader of its kind knows.
Fields = dict[str, Any]
"""A document as JSON has it. Any: each kind has fields of its own, which its reader checks."""
Upgrade = Callable[[Fields], Fields]
"""Pure: the fields of one format in, those of the next out."""


class BrokenDocumentError(ValueError):
    """A stored document that is not as it was stored, or that no reader here can read.

    ``kind`` says what it is, ``name`` where the books have it, ``reason`` what is wrong with it:
    the place in it, the value there and what would be accepted.
    """

    def __init__(self, *, kind: str, name: str, reason: str) -> None:
        self.kind, self.name, self.reason = kind, name, reason
        super().__init__(f"The stored {self.word} ({name}) can't be read: {reason}")

    @property
    def word(self) -> str:
        """What it is, in words."""
        return "request of a plan" if self.kind == "request" else self.kind.replace("-", " ")


@dataclass(frozen=True, kw_only=True, slots=True)
class DocumentForm:
    """One kind of stored document.

    ``kind``: its kind in the books. ``word``: what its text itself says under "kind"; empty where
    it says nothing. ``upgrades``: the first leads from format 1 to format 2, and so on.
    """

    kind: str
    word: str = ""
    upgrades: tuple[Upgrade, ...] = ()

    @property
    def newest(self) -> int:
        """The format that is written."""
        return len(self.upgrades) + 1

    @property
    def head(self) -> Fields:
        """What a text of the newest format begins with: its format, and its kind where it says."""
        return {"format": self.newest} | ({"kind": self.word} if self.word else {})

    def read(self, text: str, *, stated: int | None = None) -> Fields:
        """Return the fields of a text of any format as those of the newest, without its head.

        Raises BadValueError for text that isn't JSON, another kind, an unknown format, or another
        one than is ``stated`` beside it.
        """
        fields = _mapping(text, self.kind)
        number = self._format(fields.pop("format", 1), stated)
        word = fields.pop("kind", None) if self.word else ""
        if word != self.word:
            raise BadValueError(field=f"{self.kind}.kind", value=word, accepted=self.word)
        for upgrade in self.upgrades[number - 1 :]:
            fields = upgrade(fields)
        return fields

    def _format(self, number: object, stated: int | None) -> int:
        """Return the format that a text is in. Raises BadValueError for one never written."""
        field = f"{self.kind}.format"
        if type(number) is not int or not 1 <= number <= self.newest:
            accepted = "1" if self.newest == 1 else f"1 to {self.newest}"
            raise BadValueError(field=field, value=number, accepted=accepted)
        if stated not in (None, number):
            accepted = f"{number}, as its text says"
            raise BadValueError(field=field, value=stated, accepted=accepted)
        return number


def adding(key: str, value: object, *, each: str = "") -> Upgrade:
    """Return the upgrade to a form with one key more, which older formats have at ``value``.

    ``each`` names a list in the document: the key is then one of its entries.
    """

    def upgraded(fields: Fields) -> Fields:
        added = {key: value}
        if not each:
            return fields | added
        return fields | {each: [entry | added for entry in fields[each]]}

    return upgraded


def _mapping(text: str, kind: str) -> Fields:
    """Return the mapping that a text is. Raises BadValueError where it is none."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        shown = f"a text that begins {text[:20]!r}"
        raise BadValueError(field=kind, value=shown, accepted="a JSON document") from None
    if not isinstance(data, dict):
        raise BadValueError(field=kind, value=type(data).__name__, accepted="a JSON mapping")
    return data
