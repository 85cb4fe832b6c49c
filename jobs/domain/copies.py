"""Names and addresses of copies: a name that is still free, the lots that a job is copied to."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import count

from jobs.domain.checks import BadValueError

LONGEST_ADDRESS = 400
MOST_LOTS = 40
_COUNTED = re.compile(r"^(?P<stem>.*\S) (?P<number>[1-9]\d{0,3})$")


def name_beside(wanted: str, taken: Iterable[str], *, longest: int) -> str:
    """Return ``wanted`` if no one bears it, in whatever capitals, else with the next free number.

    Beside "Bedroom" stands "Bedroom 2", beside "Bedroom 2" stands "Bedroom 3".
    """
    names = {name.casefold() for name in taken}
    if wanted.casefold() not in names:
        return wanted
    counted = _COUNTED.match(wanted)
    stem, first = (counted["stem"], int(counted["number"]) + 1) if counted else (wanted, 2)
    ends = (f" {number}" for number in count(first))
    numbered = (f"{stem[: longest - len(end)].rstrip()}{end}" for end in ends)
    return next(name for name in numbered if name.casefold() not in names)


def lots_in(text: str) -> tuple[str, ...]:
    """Return the addresses of a text, one a line; empty lines are left out.

    Raises BadValueError for none, for too many, for one too long and for one that stands twice.
    """
    lines = [" ".join(line.split()) for line in text.splitlines()]
    seen: dict[str, str] = {}
    for number, line in enumerate(lines, start=1):
        if len(line) > LONGEST_ADDRESS:
            value = f"line {number}, {len(line)} characters"
            accepted = f"an address of up to {LONGEST_ADDRESS} characters"
            raise BadValueError(field="addresses", value=value, accepted=accepted)
        if line.casefold() in seen:
            value = f"“{line}”, line {number}, for the second time"
            raise BadValueError(field="addresses", value=value, accepted="each address once")
        if line:
            seen[line.casefold()] = line
    if not 1 <= len(seen) <= MOST_LOTS:
        value = f"{len(seen)} addresses" if seen else "nothing"
        accepted = f"1 to {MOST_LOTS} addresses, one a line"
        raise BadValueError(field="addresses", value=value, accepted=accepted)
    return tuple(seen.values())
