"""What a page says, read by tests."""

from __future__ import annotations

import re
from typing import Any


def words(answer: Any) -> str:
    """Return what a page says, quotes and spaces made plain, none beside a table's cell."""
    plain = {"&#x27;": "'", "&quot;": '"', "\u00a0": " "}
    text: str = answer.content.decode()
    for sign, word in plain.items():
        text = text.replace(sign, word)
    return re.sub(r" ?(</?t[dhr]\b[^>]*>) ?", r"\1", " ".join(text.split()))
