"""The address that opens a phone's own message with its words written already. Pure."""

from __future__ import annotations

import re
from urllib.parse import quote


def sms_address(phone: str, words: str) -> str:
    """Return the address of a new message to ``phone`` with these words (RFC 5724).

    Of the number only its digits and a leading plus are taken. Without any the message opens
    without a recipient, who is then picked on the phone.
    """
    plus = "+" if phone.strip().startswith("+") else ""
    digits = re.sub(r"\D", "", re.split(r"(?i)\s*(?:x|ext)", phone)[0])
    return f"sms:{plus if digits else ''}{digits}?body={quote(words, safe='')}"
