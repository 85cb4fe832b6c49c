"""Add to a new demo what a book must hold and the demo lacks: `python -m tests.books.fill`.

Everything goes through the pages, as the demo's owner would send them, so this knows addresses and
field names only. README.md beside this file tells the whole way.
"""

from __future__ import annotations

import os
from io import BytesIO
from typing import Any

import django
from django.apps import apps
from django.contrib.auth import get_user_model
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import call_command
from django.test import Client
from django.test.utils import setup_test_environment
from django.urls import reverse
from PIL import Image
from pypdf import PdfWriter

from tests.books import after_the_quote as after

OWNER = "mara@example.com"


def key_of(label: str, **values: object) -> int:
    """Return the key of the first row with these values. Raises where there is none."""
    app, model = label.split(".")
    rows = apps.get_model(app, model)._default_manager.filter(**values).order_by("pk")
    return int(rows.values_list("pk", flat=True)[:1].get())


class Office:
    """The owner at the pages: fills in forms as they are shown, and presses buttons."""

    def __init__(self) -> None:
        self.visitor = Client()
        self.visitor.force_login(get_user_model()._default_manager.get(email=OWNER))

    def press(self, name: str, pk: int, /, **data: object) -> None:
        """Send a form of a page that shows none of its own. Raises where it is refused."""
        self._send(reverse(name, args=[pk]), {"key": f"fill-{name}-{pk}", **data})

    def fill_in(self, name: str, /, *args: object, **changes: object) -> None:
        """Send the form of a page as it is shown, but for ``changes``. Raises where refused."""
        path = reverse(name, args=args)
        context = self.visitor.get(path).context
        form = context["form"] if "form" in context else context["sheet"].form
        shown = {field.html_name: field.value() for field in form}
        sent = {name: value for name, value in shown.items() if _is_sent(value)}
        self._send(path, sent | changes)

    def key_of(self, label: str, **values: object) -> int:
        """Return the key of the first row with these values. Raises where there is none."""
        return key_of(label, **values)

    def send(self, path: str, data: dict[str, Any]) -> None:
        """Send these fields to an address. Raises where they are refused."""
        self._send(path, data)

    def _send(self, path: str, data: dict[str, Any]) -> None:
        answer = self.visitor.post(path, data)
        if answer.status_code not in (302, 303):
            form = (answer.context or {}).get("form")
            message = f"{path} answered {answer.status_code}: {form.errors if form else ''}"
            raise RuntimeError(message)


def _is_sent(value: object) -> bool:
    """Whether a browser sends a field of this value: not a box unticked, nor what is not known."""
    return value is not None and value is not False


def fill() -> None:
    """Bring every kind of row and of frozen document into the demo's book."""
    office = Office()
    jobs = {
        stage: key_of("jobs.Job", title=title)
        for stage, title in (
            ("quoted", "Living room with a bay"),
            ("measured", "Kitchen, ell with a column"),
            ("laying", "Bedroom and hall"),
            ("shaded", "Study and landing"),
            ("closed", "Sunroom"),
        )
    }
    _set_company(office)
    _note_by_room(office, jobs["measured"])
    _price_apart(office, jobs["quoted"])
    _quote_anew(office, jobs["quoted"])
    office.fill_in("site-edit", jobs["measured"], tear_out="on")
    office.fill_in("hold-clear", jobs["measured"], "asbestos", by="Harrow Labs", note="Test 20-11")
    _plan_by_worker(office, jobs["measured"])
    _change_while_laying(office, jobs["laying"])
    _agree_on_shades(office, jobs["shaded"])
    call_command("work", once=True)
    _try_spending(office, jobs["measured"])
    _count_piles(office, key_of("jobs.FloorZone", job=jobs["shaded"]))
    _go_on(office, key_of("jobs.FloorZone", job=jobs["laying"]))
    call_command("work", once=True)
    _take_spending(office, key_of("jobs.FloorZone", job=jobs["measured"]))
    _after_the_quote(office, jobs)


def _after_the_quote(office: Office, jobs: dict[str, int]) -> None:
    """Bring in what follows a quote, and what precedes the next one."""
    quote = apps.get_model("estimates", "Quote")._default_manager
    row = quote.filter(job=jobs["quoted"], withdrawn_at=None).get()
    after.speak_by_link(office, row.pk, row.token)
    zone = apps.get_model("jobs", "FloorZone")._default_manager.filter(job=jobs["quoted"]).get()
    products = apps.get_model("jobs", "Product")._default_manager
    other = products.exclude(pk=zone.product_id).filter(retired_at=None).order_by("pk").first()
    if other is not None:
        after.draft_with_choices(office, jobs["quoted"], other.pk)
    after.change_by_link(office, jobs["laying"])
    after.bill(office, jobs["shaded"])
    after.on_the_board(office, jobs["shaded"], key_of("jobs.Crew"))
    ahead = apps.get_model("jobs", "WorkDay")._default_manager.filter(job=jobs["laying"], log=None)
    picture = SimpleUploadedFile("saw.png", _picture(), "image/png")
    after.log_as_planned(office, ahead.order_by("number")[0].pk, picture)
    after.after_closing(office, jobs["closed"])


def _set_company(office: Office) -> None:
    """Set price terms, a rate of our own and the maker's sheet of a product."""
    office.fill_in("price-terms", terms="Payment within 14 days.")
    office.fill_in("rate-set", work="setup:visits", hours="1.5", per="1", source="Timed on a job")
    sheet = SimpleUploadedFile("sheet.pdf", _pdf(), "application/pdf")
    office.fill_in("product-step", key_of("jobs.Product"), "sheet", sheet=sheet)


def _note_by_room(office: Office, job: int) -> None:
    """Note words and a photograph of a room."""
    photo = SimpleUploadedFile("wall.png", _picture(), "image/png")
    words = "The outlet by the door stands out."
    room = key_of("jobs.Room", job=job)
    office.fill_in("room-notes", room, text=words, photos=photo, for_packet="on", for_quote="on")


def _price_apart(office: Office, job: int) -> None:
    """Name who pays a job, and what its homeowner does; tell a range at the phone."""
    office.fill_in("job-payer", job, new_name="Harrow Store", new_kind="store", order_number="4711")
    office.fill_in("job-work-split", job, clean="on")
    office.fill_in("ballpark", size="12 x 14", do="keep", name="Ines Okafor")


def _quote_anew(office: Office, job: int) -> None:
    """Withdraw the quote of a job and issue another."""
    office.press("quote-withdraw", key_of("estimates.Quote", job=job))
    office.press("job-price", job)
    after.issue(office, job)


def _plan_by_worker(office: Office, job: int) -> None:
    """Survey a room, put it on a floor with rules of its own, ask for its plan and others."""
    room = key_of("jobs.Room", job=job)
    reading = {"depth-0-x": "4'", "depth-0-y": "3'", "depth-0-depth": "1/4"}
    office.fill_in("room-depths", room, **reading, **{"depth-rows": "1"})
    office.fill_in("zone-add", job, name="Kitchen", product=key_of("jobs.Product"))
    zone = key_of("jobs.FloorZone", job=job)
    office.fill_in("zone-rules", zone, min_end_mm="10")
    office.press("zone-plan", zone)
    office.fill_in("zone-compare", zone)


def _change_while_laying(office: Office, job: int) -> None:
    """Print the packet again, agree a change order, log a photograph, set a run of trim."""
    office.press("packet-print", job)
    office.fill_in("site-edit", job, flights=2)
    office.fill_in("job-changes", job, agreed_by="Dara Voss")
    day = key_of("jobs.WorkDay", job=job, number=1)
    photo = SimpleUploadedFile("hall.png", _picture(), "image/png")
    office.fill_in("log-add", day, photo=photo, note="The hall before laying.")
    office.fill_in("trim-run", key_of("jobs.TrimRun", room__job=job), profile="3 1/4 colonial")


def _agree_on_shades(office: Office, job: int) -> None:
    """Take down a carton of three widths; print the packet of a floor whose boards have shades."""
    sizes = {"length": "48", "width": "9", "thickness": "1/4", "per_carton": "3"}
    name = "Birch, three widths"
    office.fill_in("product-add", name=name, core="rigid", attached_pad="no", **sizes)
    shades = {"variants": "A 1, B 2", "variants_2": "A 2, B 2", "variants_3": "A 3"}
    more = {"width_2": "7", "width_3": "5", "count_2": "4", "count_3": "3"}
    office.fill_in("product-step", key_of("jobs.Product", name=name), "mix", **more, **shades)
    office.press("job-price", job)
    after.issue(office, job)
    quote = key_of("estimates.Quote", job=job)
    office.press("quote-accept", quote, name="Jonas Weller", read="on")
    office.fill_in("job-days", job, crew=key_of("jobs.Crew"))
    office.press("packet-print", job)


def _count_piles(office: Office, zone: int) -> None:
    """Count the opened cartons of a floor, two planks short, and have it planned from them."""
    office.fill_in("zone-piles", zone, pile_0="28", pile_1="26", pile_2="20")
    office.press("zone-plan", zone)


def _try_spending(office: Office, job: int) -> None:
    """Plan a floor with the fewest planks, then try what its last carton leaves."""
    zone = key_of("jobs.FloorZone", job=job)
    office.fill_in("zone-edit", zone, prefer="planks")
    office.press("zone-plan", zone)
    call_command("work", once=True)
    office.press("zone-spend", zone)


def _take_spending(office: Office, zone: int) -> None:
    """Take the plan that the worker tried."""
    page = office.visitor.get(reverse("zone-spend", args=[zone]))
    office.press("zone-spend-take", zone, version=page.context["take"]["version"].value())


def _go_on(office: Office, zone: int) -> None:
    """Note what is down of a floor and have the rest of it planned."""
    office.fill_in("zone-going-on", zone, rows="20", planks="90")
    office.press("zone-plan", zone)


def _pdf() -> bytes:
    out, writer = BytesIO(), PdfWriter()
    writer.add_blank_page(width=612, height=792)
    writer.write(out)
    return out.getvalue()


def _picture() -> bytes:
    out = BytesIO()
    Image.new("RGB", (320, 240), (168, 140, 104)).save(out, "PNG")
    return out.getvalue()


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    django.setup()
    setup_test_environment()
    fill()
