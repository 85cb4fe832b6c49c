"""Who may clear a hold, in words, as pages say it beside the hold. Pure.

Who inspects for asbestos and who tests for lead are those whom the rules beside the cautions name;
the rest is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

ANYBODY = "the office, with a name and what it goes by"

CLEARED_BY: Mapping[str, str] = {
    "asbestos": "a competent inspector in writing; the office enters the paper",
    "lead": "a certified firm, or a test that finds no lead; the office enters it",
    "moisture": "whoever reads it again within the limit; the office enters the reading",
    "moisture-open": "whoever reads the subfloor; a reading within the limit opens it",
    "moisture-row-one": "the lead, by a reading that morning in the log",
    "moisture-boards": "the lead, by a reading of the boards in the log",
    "risers": "whoever evens the risers and measures them; the office enters it",
}
"""By the code of a hold."""


def cleared_by(code: str) -> str:
    """Return who clears a hold, in words."""
    return CLEARED_BY.get(code, ANYBODY)
