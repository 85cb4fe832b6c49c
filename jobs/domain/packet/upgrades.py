"""The way of a stored packet from an old format to the newest. Pure."""

from __future__ import annotations

from jobs.domain.formats import Fields


def numbered_cuts(fields: Fields) -> Fields:
    """Return a packet of format 1 with numbered cuts, leftovers on no stack, nothing sorted."""
    floors = [
        {
            **floor,
            "rows": [
                {**row, "new": "", "pieces": [_numbered_piece(piece) for piece in row["pieces"]]}
                for row in floor["rows"]
            ],
            "rack": [{**entry, "stack": None} for entry in floor["rack"]],
            "piles": [],
            "sort": "",
        }
        for floor in fields["floors"]
    ]
    loads = [{**load, "piles": "", "sort": ""} for load in fields["loads"]]
    return {**fields, "floors": floors, "loads": loads}


def _numbered_piece(piece: Fields) -> Fields:
    steps = [{**step, "n": n} for n, step in enumerate(piece["steps"], start=1)]
    return {**piece, "steps": steps, "lies": ""}


_OLDER = ("rows", "rack", "row_lines", "shaped", "stick", "templates", "joining", "card", "gap")
"""What a floor of format 2 says in words of its own, which are printed as they were."""


def by_strips(fields: Fields) -> Fields:
    """Return a packet of format 2 as one of format 3: the words of its floors stay what they were.

    Each floor keeps them under ``older``; nothing of it is drawn as strips. Its holds are gates
    without a reading, its loads are of no phase, its days know no hours of the clock.
    """
    care = fields.get("joining_care", "")
    gone = ("joining_care", "loads", "access")
    kept = {name: value for name, value in fields.items() if name not in gone}
    loads = fields.get("loads", [])
    cautions = fields.get("cautions", [])
    return {
        **kept,
        "cover": _cover(fields),
        "gates": [_gate(one) for one in cautions if one["severity"] == "hold"],
        "cautions": [one for one in cautions if one["severity"] != "hold"],
        "phases": [{"phase": "On the truck", "loads": loads, "tools": []}] if loads else [],
        "floors": [_with_older_words(floor, care) for floor in fields["floors"]],
        "days": [_day(day) for day in fields.get("days", [])],
        "changed": {"since": 0, "said": [], "parts": []},
    }


def _cover(fields: Fields) -> Fields:
    client, company = fields.get("client", {}), fields.get("company", {})
    contacts = [
        ["Homeowner", client.get("name", ""), client.get("phone", "")],
        ["Office", company.get("name", ""), company.get("phone", "")],
    ]
    access = fields.get("access", "")
    return {"places": [], "contacts": contacts, "carry": "", "today": "", "access": access}


def _gate(caution: Fields) -> Fields:
    known = ("code", "title", "text", "source", "cleared")
    read: Fields = {"limit": "", "method": "", "unit": "", "places": [], "made": []}
    kept = {name: caution.get(name) for name in known}
    return {**kept, "held": not caution.get("cleared"), **read}


def _day(day: Fields) -> Fields:
    """Return a day whose checks are all made as the work goes, of tasks without a time of day."""
    new: Fields = {"arrives": "", "leaves": "", "code": "", "goal": "", "clock": ""}
    timed: Fields = {"begins": "", "ends": "", "people": [], "rooms": "", "stop": "", "clock": ""}
    checks = [{"text": text, "source": ""} for text in day["checks"]]
    lists: Fields = {"floors": [], "cautions": [], "photos": [], "going_home": []}
    tasks = [{**timed, **task} for task in day["tasks"]]
    return {**day, **new, **lists, "checks": checks, "tasks": tasks}


def _with_older_words(floor: Fields, care: str) -> Fields:
    older = {name: floor[name] for name in _OLDER if name in floor} | {"joining_care": care}
    rest = {name: value for name, value in floor.items() if name not in _OLDER}
    return {
        **rest,
        "strips": [],
        "offcuts": [],
        "stick": {},
        "notched": [],
        "templates": [],
        "joining": {},
        "drawings": [],
        "beside": False,
        "older": older,
    }
