"""Names of floors: what one may be called, and a free one for a floor that nobody named."""

from __future__ import annotations

from jobs.models import FloorZone, Job


def free_name(job: Job, wanted: str = "") -> str:
    """Return a name that no floor of the job has, in whatever capitals: ``wanted`` if it is free.

    Else "floor" and a number stand behind as much of it as fits; without a wish it is "Floor 1".
    """
    wanted = wanted.strip()
    taken = {name.casefold() for name in job.zones.values_list("name", flat=True)}
    # All these names differ but for one that ``wanted`` may be alike, and they are two more than
    # are taken: one of them is free.
    numbers = range(2, len(taken) + 2)
    ends = ["", " floor", *(f" floor {number}" for number in numbers)]
    if not wanted:
        ends = ["Floor 1", *(f"Floor {number}" for number in numbers)]
    names = (f"{wanted[: FloorZone.LONGEST_NAME - len(end)].rstrip()}{end}" for end in ends)
    return next(name for name in names if name.casefold() not in taken)


def fault_of_name(job: Job, name: str, *, but: int = 0) -> str:
    """Return why a floor of the job can't have this name; empty where it can.

    ``but``: the pk of the floor that is named.
    """
    longest = FloorZone.LONGEST_NAME
    if not name.strip():
        return f"Nothing was typed; accepted: a text of up to {longest} characters."
    if len(name) > longest:
        return f"{len(name)} characters are too many; accepted: up to {longest}."
    if job.zones.filter(name__iexact=name).exclude(pk=but).exists():
        return f"Another floor of this job is called “{name}”; accepted: a name of its own."
    return ""
