"""The whole content of a packet. Pure.

The content is frozen as it was issued, drawings included, so that a packet of last year prints as
it did.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal

from jobs.domain.formats import DocumentForm, Fields
from jobs.domain.packet.day import PacketDay, day_content
from jobs.domain.packet.upgrades import by_strips, numbered_cuts
from jobs.domain.site.facts import Caution

PACKET = DocumentForm(kind="packet", word="packet", upgrades=(numbered_cuts, by_strips))


def caution_content(cautions: Iterable[Caution]) -> list[dict[str, object]]:
    """Return the cautions of the packet; what stops work stands among its gates instead."""
    return [
        {
            "code": caution.code,
            "title": caution.title,
            "text": caution.text,
            "source": caution.source,
            "severity": caution.severity,
        }
        for caution in cautions
        if "packet" in caution.shown_on and caution.severity != "hold"
    ]


def packet_content(
    *,
    job: Mapping[str, object],
    client: Mapping[str, object],
    company: Mapping[str, object],
    scope: Mapping[str, object],
    cover: Mapping[str, object],
    gates: Sequence[Mapping[str, object]],
    cautions: Sequence[Mapping[str, object]],
    phases: Sequence[Mapping[str, object]],
    floors: Sequence[Fields],
    days: Sequence[PacketDay],
    edges: Mapping[str, object],
) -> Fields:
    """Return the content of a packet without its number and date of issue.

    ``floors``: each as `floor_content` returns it, or as an earlier packet has it.
    """
    codes = {task.code for day in days for task in day.tasks}
    return {
        **PACKET.head,
        "job": dict(job),
        "client": dict(client),
        "company": dict(company),
        "scope": dict(scope),
        "cover": dict(cover),
        "gates": list(gates),
        "cautions": list(cautions),
        "phases": list(phases),
        "floors": list(floors),
        "edges": dict(edges),
        "days": [day_content(day, codes) for day in days],
        "changed": {"since": 0, "said": [], "parts": []},
    }


def packet_from(fields: Fields) -> Fields:
    """Return the stored fields of a packet with days as dates and hours as decimals."""
    days = [
        {
            **day,
            "date": date.fromisoformat(day["date"]),
            "hours": Decimal(day["hours"]),
            "tasks": [{**task, "hours": Decimal(task["hours"])} for task in day["tasks"]],
        }
        for day in fields["days"]
    ]
    return {**fields, "days": days, "issued_on": date.fromisoformat(fields["issued_on"])}
