"""What moisture readings change in a packet that is in the crew's hands. Pure.

A packet asks for readings and has boxes for them: one that is taken as asked and lets the work go
on changes nothing on paper. One that stops the work does, and so does a stop that is gone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from jobs.domain.site.facts import Caution
from jobs.domain.site.moisture_gates import BY_READING

TOO_WET = "moisture"
"""The code of the hold that a reading over its limit makes."""
_SAME_WHATEVER_IT_SAYS = frozenset({"moisture-open", "moisture-row-one"})
"""Gates whose text tells a day or a subfloor, of which a packet's basis has a word of its own."""


def moisture_holds(holds: Mapping[str, Caution]) -> dict[str, list[str]]:
    """Return by code, as a basis keeps them, title and text of a job's open holds of moisture."""
    return {
        code: [hold.title, hold.text]
        for code, hold in sorted(holds.items())
        if code == TOO_WET or code in BY_READING
    }


def moisture_changes(
    then: Mapping[str, list[str]], now: Mapping[str, list[str]], *, cleared: bool
) -> Iterator[str]:
    """Yield in sentences what readings changed since; ``cleared``: a hold was cleared meanwhile."""
    for code, (title, text) in now.items():
        before = then.get(code)
        if before is None:
            yield f"Moisture stops the work: {_begun(title)}."
        elif before[1] != text and code not in _SAME_WHATEVER_IT_SAYS:
            yield f"Moisture was read again, and what stops the work is another: {_begun(title)}."
    if TOO_WET in then and TOO_WET not in now and not cleared:
        yield "No moisture reading is over its limit any more."


def _begun(title: str) -> str:
    return title[:1].lower() + title[1:]
