"""What follows a quote, brought into the demo's book through the pages: `fill` calls it.

Drafts with choices, questions and refusals by link, mails, texts, change orders as drafts, invoices
with payments, a completion slip, extra work, calendar links, a kept conflict and a moved day.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Protocol

from django.apps import apps
from django.core.files.uploadedfile import UploadedFile
from django.core.management import call_command
from django.test import Client
from django.test.utils import override_settings
from django.urls import reverse

from jobs.clock import today_of


class AtThePages(Protocol):
    """Somebody at the pages, as `fill` has one."""

    visitor: Client

    def press(self, name: str, pk: int, /, **data: object) -> None:
        """Send a form of a page that shows none of its own."""

    def fill_in(self, name: str, /, *args: object, **changes: object) -> None:
        """Send the form of a page as it is shown, but for ``changes``."""

    def send(self, path: str, data: dict[str, object]) -> None:
        """Send these fields to an address."""

    def key_of(self, label: str, **values: object) -> int:
        """Return the key of the first row with these values."""


MAILED = override_settings(EMAIL_BACKEND="django.core.mail.backends.smtp.EmailBackend")
"""As if a mail server were named: mails are posted, and nobody sends them."""


def issue(office: AtThePages, job: int) -> None:
    """Issue the quote of a job as its preview shows it."""
    page = office.visitor.get(reverse("quote-preview", args=[job]))
    seen = page.context["issue"].initial["seen"]
    office.press("quote-issue-draft", job, seen=seen)


def draft_with_choices(office: AtThePages, job: int, product: int) -> None:
    """Write the draft of a job's quote: a week, a second way, and one in another product."""
    company = apps.get_model("jobs", "Job")._default_manager.get(pk=job).company
    week = (today_of(company) + timedelta(days=60)).isoformat()
    office.press("option-plan", job, product=product)
    call_command("work", once=True)
    page = office.visitor.get(reverse("quote-draft", args=[job]))
    offered = [key for key, _ in page.context["form"].fields["second_way"].choices if key]
    boards = [key for key in offered if key.startswith("product-")]
    plain = [key for key in offered if key not in boards]
    ways = dict(zip(("second_way", "third_way"), [*boards[:1], *plain[:1]], strict=False))
    office.fill_in("quote-draft", job, start_week=week, color="Dune", **ways)


def speak_by_link(office: AtThePages, quote: int, token: str) -> None:
    """Text and mail a quote; its homeowner asks, is answered, and declines."""
    office.press("quote-texted", quote, **{"texted-key": "fill-texted"})
    with MAILED:
        office.press("quote-mail", quote, to="ines@example.com", key="fill-mailed")
        home, address = Client(), reverse("quote-public", args=[token])
        home.post(reverse("quote-public-seen", args=[token]))
        home.post(address, {"act": "ask", "name": "Ines Okafor", "text": "Do you move the piano?"})
        question = office.key_of("estimates.QuoteEvent", quote=quote, kind="asked")
        answered = {f"answer-{question}-key": "fill-answer", f"answer-{question}-text": "Yes."}
        office.press("quote-answer", question, **answered)
        home.post(address, {"act": "decline", "reason": "We wait a year."})


def change_by_link(office: AtThePages, job: int) -> None:
    """Extra work noted by the crew becomes a draft; another change is sent, and one dropped."""
    office.fill_in(
        "extra-ask", job, text="A shelf over the washer", asked_by="Dara Voss", hours="2"
    )
    words = {"why": "Wanted since", "asked_by": "Dara Voss"}
    office.fill_in("change-add", job, text="A threshold at the porch", **words)
    draft = office.key_of("estimates.ChangeDraft", job=job, text="A threshold at the porch")
    line = {"label": "Setting it", "kind": "hours", "quantity": "2", "key": "fill-line"}
    office.press("change-line-add", draft, **{f"line-{name}": text for name, text in line.items()})
    page = office.visitor.get(reverse("change-draft", args=[draft]))
    sent = {f"send-{field.name}": field.value() for field in page.context["send_form"]}
    office.press("change-send", draft, **sent)
    offer = office.key_of("estimates.ChangeOffer", draft=draft)
    office.press("change-texted", offer, **{"texted-key": "fill-texted-change"})
    with MAILED:
        mail = {"mail-to": "dara@example.com", "mail-key": "fill-mailed-change"}
        office.press("change-mail", offer, **mail)


def bill(office: AtThePages, job: int) -> None:
    """Issue two invoices, void one, note a payment and take it back; the occupant signs."""
    for place in (1, 2):
        page = office.visitor.get(reverse("job-invoices", args=[job]))
        seen = page.context["form"].fields["seen"].choices[0][0]
        office.fill_in("job-invoices", job, seen=seen, note=f"Invoice {place} of the book")
    first = office.key_of("estimates.Invoice", job=job, number=1)
    office.fill_in("payment-add", first, way="check", amount="10", note="Check 11")
    payment = office.key_of("estimates.InvoicePayment", invoice=first)
    office.fill_in("payment-back", payment, reason="It bounced")
    office.fill_in("payment-add", first, way="check", amount="12", note="Check 12")
    second = office.key_of("estimates.Invoice", job=job, number=2)
    office.fill_in("invoice-void", second, reason="Sent too early")
    office.fill_in("completion-slip", job, name="Jonas Weller", done="on", open_points="A plinth")


def on_the_board(office: AtThePages, job: int, crew: int) -> None:
    """Open calendar links, move a day with its reason, and keep the conflict that comes of it."""
    office.send(reverse("feed-person"), {})
    office.press("feed-crew", crew)
    day = office.key_of("jobs.WorkDay", job=job, number=1)
    address = reverse("day-move", args=[day])
    page = office.visitor.get(address)
    picked = {"to": page.context["pick"]["to"].value(), "seen": page.context["seen"]}
    office.send(address, picked | {"key": "fill-moved", "reason": "The client is away"})
    conflicts = office.visitor.get(reverse("board")).context["board"].conflicts
    if not conflicts:
        message = "nothing on the board stands against anything: the book would keep no conflict"
        raise RuntimeError(message)
    fields = {"conflict": conflicts[0].key, "reason": "The office knows."}
    office.send(reverse("board-keep"), fields)


def log_as_planned(office: AtThePages, day: int, picture: UploadedFile[bytes]) -> None:
    """Log a day for the whole crew as it was planned, with a photograph."""
    address = f"{reverse('log-add', args=[day])}?as=planned"
    form = office.visitor.get(address).context["form"]
    shown = {field.html_name: field.value() for field in form}
    typed = {name: value for name, value in shown.items() if value not in (None, "", [], False)}
    office.send(address, typed | {"photos": picture, "note": "The saw spot is dry."})


def after_closing(office: AtThePages, job: int) -> None:
    """Open a closed job's floor passport and correct it; take down why somebody goes back."""
    office.press("passport-open", job, version=0)
    passport = office.key_of("estimates.FloorPassport", job=job)
    note = "Two planks of the spares lie in the attic."
    office.press("passport-correct", passport, number=1, note=note)
    company = apps.get_model("jobs", "Job")._default_manager.get(pk=job).company
    back = {"on": today_of(company).isoformat(), "crew": company.crews.order_by("pk")[0].pk}
    office.fill_in("callback-add", job, what="A board creaks", cause="our work", **back)
