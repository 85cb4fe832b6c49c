"""The pages of one floor, printed as a packet prints them."""

from __future__ import annotations

from typing import Any

from django.template import engines

from jobs.domain.packet.floor import PacketFloor, floor_content
from jobs.domain.packet.notched import notched_content
from jobs.pdf import render_pdf
from layout.cutsheet.sheet import cut_sheet
from layout.values.plan_form import read_plan
from layout.values.request import read_request

Json = dict[str, Any]
_PAGES = """{% extends "base_print.html" %}{% block head %}
<link rel="stylesheet" href="css/packet.css"><link rel="stylesheet" href="css/packet-strips.css">
<link rel="stylesheet" href="css/packet-shapes.css">{% endblock %}{% block content %}
{% include "jobs/packets/_print_strips.html" %}{% include "jobs/packets/_print_offcuts.html" %}
{% include "jobs/packets/_print_stick.html" %}{% include "jobs/packets/_print_notched.html" %}
{% include "jobs/packets/_print_slides.html" %}
{% endblock %}"""


def floor_pdf(request: Json, plan: Json, *, name: str = "Hall", paper: str = "letter") -> bytes:
    """Return the pages of a floor: strips, offcuts, stick and notched planks."""
    floor = PacketFloor(
        name=name,
        product="Oak",
        lock="angle-drop",
        number=1,
        sha256="0" * 64,
        request=read_request(request),
        plan=read_plan(plan),
        roomy=True,
    )
    content = floor_content(floor, 1)
    facts = {
        "title": "Job packet 1",
        "paper": paper,
        "job_number": 4,
        "issue": "Packet 1",
        "company_name": "Example Floors",
    }
    template: Any = engines["django"].from_string(_PAGES)
    packet = {"floors": [content]}
    return render_pdf(html=template.render({**facts, "floor": content, "packet": packet}))


def traced_of(request: Json, plan: Json) -> list[str]:
    """Return the pieces that are cut by a template, since they have too many figures."""
    value, made = read_request(request), read_plan(plan)
    content = notched_content(value, made, cut_sheet(value, made), 1)
    return [piece["id"] for piece in content["pieces"] if piece["traced"]]
