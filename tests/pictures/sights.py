"""What is to be looked at: every pictured address, for every role of both companies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from tests.pictures import DESK, PHONE
from tests.pictures.addresses import (
    EVERY_ROW,
    Address,
    Example,
    addresses,
    examples_of,
    is_pictured,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Onlooker:
    """Somebody who looks: at which company, in which role, and how the sign-ins call that role.

    ``thorough``: whether every row is looked at where pages differ by row.
    """

    company: str
    role: str
    signs_in_as: str = ""
    thorough: bool = False


OWNER = Onlooker(company="full", role="owner", signs_in_as="owner", thorough=True)
ESTIMATOR = Onlooker(company="full", role="estimator", signs_in_as="estimator")
LEAD = Onlooker(company="full", role="lead", signs_in_as="crew")
HOMEOWNER = Onlooker(company="full", role="homeowner", thorough=True)
EMPTY_OWNER = Onlooker(company="empty", role="owner")
ONLOOKERS = (OWNER, ESTIMATOR, LEAD, HOMEOWNER, EMPTY_OWNER)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """An address filled in for somebody; ``stem`` begins the name of every file it leaves."""

    onlooker: Onlooker
    name: str
    path: str
    stem: str

    def picture(self, width: int) -> str:
        """Return the name of the picture at a width."""
        return f"{self.stem}-{width}.png"

    @property
    def paper(self) -> str:
        """The name of the PDF, where the address answers with one."""
        return f"{self.stem}.pdf"


def sights() -> list[Sight]:
    """Return everything there is to look at, by address."""
    return [sight for address in addresses() if is_pictured(address) for sight in _of(address)]


def _of(address: Address) -> Iterator[Sight]:
    """Yield the sights of an address; a company without rows has only pages without arguments."""
    examples = examples_of(address)
    for onlooker in ONLOOKERS:
        if onlooker.company == "empty" and address.shapes:
            continue
        every = onlooker.thorough and address.name in EVERY_ROW
        yield from _named(onlooker, address.name, examples if every else examples[:1])


def _named(onlooker: Onlooker, name: str, examples: list[Example]) -> Iterator[Sight]:
    """Yield the sights of examples: the first bears the bare name, the others their labels too."""
    seen: dict[str, int] = {}
    for place, example in enumerate(examples):
        parts = [onlooker.company, onlooker.role, name]
        if place:
            seen[example.label] = seen.get(example.label, 0) + 1
            again = f"-{seen[example.label]}" if seen[example.label] > 1 else ""
            parts.append(example.label + again)
        yield Sight(onlooker=onlooker, name=name, path=example.path, stem="-".join(parts))


def widths(sight: Sight, names: Iterable[str]) -> list[int]:
    """Return the widths at which a sight is wanted: all, where nothing was named."""
    parts = tuple(names)
    return [width for width in (PHONE, DESK) if _named_in(sight, sight.picture(width), parts)]


def is_wanted(sight: Sight, names: Iterable[str]) -> bool:
    """Whether a picture or the PDF of a sight is wanted."""
    parts = tuple(names)
    return bool(widths(sight, parts)) or is_paper_wanted(sight, parts)


def is_paper_wanted(sight: Sight, names: Iterable[str]) -> bool:
    """Whether the PDF of a sight is wanted, where it is one."""
    return _named_in(sight, sight.paper, tuple(names))


def _named_in(sight: Sight, file: str, parts: tuple[str, ...]) -> bool:
    """Whether nothing was named, or a name is part of the URL name or of the file's."""
    return not parts or any(part in sight.name or part in file for part in parts)
