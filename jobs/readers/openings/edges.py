"""What a job's rooms meet at their edges, for a page and for the packet: doorways, stairs, trim."""

from __future__ import annotations

from jobs.domain.formats import Fields
from jobs.domain.site.facts import VisitFacts
from jobs.domain.site.level_changes import edge_cautions
from jobs.models import Doorway, Job, SiteFacts, Treatment
from jobs.readers.openings.doorways import doorway_words, doorways_of, step_of, trapped_words
from jobs.readers.openings.stairs import flight_of, riser_lines
from jobs.readers.openings.strips import chain_content
from jobs.readers.trim import cut_lists, lengths_words, stick_drawings, stock_mm


def edges_of_job(job: Job) -> dict[str, object]:
    """Return the doorways of a job in words, its stairs with their checks, trapped appliances."""
    site = SiteFacts.objects.filter(job=job).first()
    rooms = job.rooms.select_related("job", "zone__product")
    return {
        "doorways": [doorway_words(doorway, site) for doorway in doorways_of(job)],
        "trapped": [words for room in rooms if (words := trapped_words(room))],
        "stairs": [
            {
                "row": row,
                "checks": [
                    check.title for check in edge_cautions(VisitFacts(stairs=(flight_of(row),)))
                ],
            }
            for row in job.stairs.select_related("job")
        ],
    }


def level_reducer(doorway: Doorway) -> list[str]:
    """Return what is asked where a reducer is to join two floors of one height; else nothing."""
    if doorway.treatment != Treatment.REDUCER or step_of(doorway):
        return []
    words = "Both floors lie level, and a reducer runs down to a lower one"
    return [f"{words}: ask the office whether a T-molding is meant."]


def packet_edges(job: Job) -> Fields:
    """Return doorways, stairs and trim cuts as a packet keeps them: words only, and no price."""
    site = SiteFacts.objects.filter(job=job).first()
    openings = []
    for doorway in doorways_of(job):
        words, chain = doorway_words(doorway, site), chain_content(doorway)
        # The chain says where the joint lies; one place is told once.
        facts = [pair for pair in words.facts if not (chain["chain"] and pair[0] == "Joint")]
        openings.append(
            {
                "where": words.where,
                "leads": words.leads,
                "treatment": words.treatment,
                "facts": [list(pair) for pair in facts],
                "warnings": [*words.warnings, *level_reducer(doorway)],
                **chain,
            }
        )
    return {
        "openings": openings,
        "stairs": [
            {
                "name": row.name,
                "counts": f"{row.treads} treads, {row.riser_boards} risers, {row.nosings} nosings",
                "risers": [list(line) for line in riser_lines(row)],
            }
            for row in job.stairs.select_related("job")
        ],
        "trim": [
            {
                "title": one.title,
                "sticks": [
                    {**stick, "drawing": drawing}
                    for stick, drawing in zip(one.sticks, drawings, strict=True)
                ],
                "bought": one.bought,
                "proof": one.proof,
            }
            for one, drawings in zip(cut_lists(job), stick_drawings(job), strict=True)
        ],
        "trim_stock": lengths_words(stock_mm(job)),
    }
