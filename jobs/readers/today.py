"""What waits on the office: a line each, newest first, for its first page.

Stories above register what they look for, so that imports keep pointing down. Each is looked at in
as many queries for many lines as for one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime

from jobs.models import Company

MOST_LINES = 50


@dataclass(frozen=True, kw_only=True, slots=True)
class Waiting:
    """One line: what waits, since when, where it is seen to, and what kind it is of.

    ``noted_url`` takes the form that puts the line aside; empty where it goes only once it is done.
    """

    text: str
    url: str
    at: datetime
    kind: str
    noted_url: str = ""


Look = Callable[[Company], Iterable[Waiting]]
"""What finds lines of one subject for a company."""

_looks: list[Look] = []


def register(look: Look) -> None:
    """Let the first page look for one more subject."""
    if look not in _looks:
        _looks.append(look)


def waiting_for(company: Company) -> list[Waiting]:
    """Return what waits on the company's office, newest first."""
    lines = [line for look in _looks for line in look(company)]
    return sorted(lines, key=lambda line: line.at, reverse=True)[:MOST_LINES]
