"""The secret word of a link that opens one thing without a sign-in. Pure.

The word is computed from the site's secret, what the link opens, the link's number and its version
(HMAC, RFC 2104, with SHA-256), so it need not be kept: only its hash is, to find the link by. A
link that is revoked goes on under its next version, and the word of the one before opens nothing.
"""

from __future__ import annotations

import hashlib
import hmac
from base64 import urlsafe_b64encode

from jobs.domain.checks import BadValueError


def link_token(secret: str, *, purpose: str, link: int, version: int) -> str:
    """Return the word of a link: 43 letters, digits, hyphens and underscores.

    ``purpose`` is what the link opens, such as "quote"; links of two purposes never share a word.

    Raises:
        BadValueError: an empty purpose or one of several lines, a link or a version below 1.
    """
    if not purpose or "\n" in purpose:
        raise BadValueError(field="purpose", value=purpose, accepted="one line, such as quote")
    for field, number in (("link", link), ("version", version)):
        if number < 1:
            raise BadValueError(field=field, value=number, accepted="a whole number from 1")
    said = f"link\n{purpose}\n{link}\n{version}".encode()
    drawn = hmac.new(secret.encode(), said, hashlib.sha256).digest()
    return urlsafe_b64encode(drawn).rstrip(b"=").decode()


def token_hash(token: str) -> str:
    """Return the SHA-256 of a link's word, by which the link is found; the word stays unknown."""
    return hashlib.sha256(token.encode()).hexdigest()
