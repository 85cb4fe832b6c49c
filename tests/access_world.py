"""One small company with one of everything, and the six people who knock at its doors."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from io import BytesIO

from django.test import Client as Visitor
from PIL import Image

from estimates.domain.starting import STARTING_PRICES
from estimates.models import (
    Ballpark,
    JobAllowance,
    JobLine,
    PriceItem,
    Purchase,
    Quote,
    StateNotice,
)
from estimates.services import quotes as money
from estimates.services.orders.offers import word_of
from estimates.services.price_import import keep_price_file
from jobs.clock import today_of
from jobs.domain.quantities import CATALOG
from jobs.models import (
    Callback,
    Company,
    Crew,
    DayLog,
    DaysChange,
    ExistingFloor,
    Job,
    JobExtra,
    KeptConflict,
    LeftoverStock,
    LogPhoto,
    Mail,
    OpenSession,
    Rate,
    RateTaking,
    Role,
    Room,
    SiteFacts,
    StoredFile,
    SuppliedMaterial,
    User,
    WorkDay,
)
from jobs.services.feeds.links import open_feed
from jobs.services.files import store_file
from jobs.services.moved_days.saving import kept_day
from jobs.services.openings.stairs import remove_stair
from tests.builders import (
    make_company,
    make_crew,
    make_day,
    make_doorway,
    make_job,
    make_log_entry,
    make_note,
    make_packet,
    make_person,
    make_photo,
    make_plan,
    make_product,
    make_room,
    make_run,
    make_stair,
    make_zone,
)
from tests.estimates.a_passport import a_passport_of
from tests.estimates.invoices_by_hand import a_payment_of, a_slip_of, an_invoice_of
from tests.orders.a_change import make_change


@dataclass(frozen=True, kw_only=True, slots=True)
class World:
    """The browsers of the people by role, and what stands in an address about each kind of row."""

    browsers: dict[str, Visitor]
    rows: dict[str, list[object]]


def build_world() -> World:
    """Return a world in which every kind of row exists once."""
    company = make_company()
    people = {
        "stranger": make_person(make_company("Other Floors")),
        "other": make_person(company, Role.CREW),
        "crew": make_person(company, Role.CREW),
        "estimator": make_person(company, Role.ESTIMATOR),
        "owner": make_person(company),
    }
    rows = _rows(people["owner"], people["crew"])
    browsers = {"nobody": Visitor(), **{role: _signed_in(who) for role, who in people.items()}}
    keys: dict[str, list[object]] = {kind: [key] for kind, key in rows.items()}
    job, product = rows["job"], rows["product"]
    return World(
        browsers=browsers,
        rows=keys
        | {"hold": [job, "asbestos"], "reading": [job, 0], "card": ["casings"]}
        | {"password": ["MQ", "guessed"]}
        | {"offer": [job, "bags"], "step": [product, "laying"]}
        | {"unitprice": [rows["client"], "casings"], "stocked": [rows["zone"], rows["stock"]]},
    )


def _signed_in(person: User) -> Visitor:
    visitor = Visitor()
    visitor.force_login(person)
    return visitor


def _rows(owner: User, crew_member: User) -> dict[str, object]:
    """Return the keys of one of everything, on a job that the crew member works on."""
    company = owner.company
    assert company is not None
    job = make_job(company)
    facts = SiteFacts.objects.filter(job=job)
    facts.update(existing_floor=ExistingFloor.RESILIENT, floor_year=1970, tear_out=True)
    room, product = make_room(job), make_product(company, sheet=_sheet(job))
    zone = make_zone(room, product)
    rows: dict[str, object] = {"plan": make_plan(zone).pk}
    crew = make_crew(company, crew_member)
    rows |= {"job": job.pk, "room": room.pk, "zone": zone.pk, "product": product.pk}
    rows |= {"stair": make_stair(job).pk, "run": make_run(room).pk}
    rows |= {"doorway": make_doorway(room).pk, "client": job.client_id, "crew": crew.pk}
    day = make_day(job, crew)
    rows["session"] = OpenSession.objects.create(person=owner, session_key="of-the-owner").pk
    rows |= {"day": day.pk, "person": crew_member.pk, "change": _changed(day).pk}
    rows |= {"entry": make_log_entry(day, crew_member).pk, "packet": make_packet(job).pk}
    rows |= {"loose": _loose_room(job).pk} | _noted(room, owner) | _supplied(job)
    log = DayLog.objects.create(day=day, teller=crew_member, key="k")
    shot = LogPhoto.objects.create(log=log, file=make_photo(company))
    rows |= {"shot": shot.pk}
    extra = JobExtra.objects.create(
        job=job, who=crew_member, text="Take the shelf down", photo=make_photo(company)
    )
    rows |= {"extra": extra.pk} | _changes(job, extra)
    return rows | _feeds(crew_member, company, crew) | _money(job, owner, product.name)


def _feeds(member: User, company: Company, crew: Crew) -> dict[str, object]:
    """Return the key of the member's calendar link, and the word of that of the crew."""
    theirs = open_feed(company=company, user=member, version=0)
    of_crew = open_feed(company=company, user=member, version=0, crew=crew)
    kept = KeptConflict.objects.create(company=company, key="crew:1", text="Two", reason="Both")
    return {"feed": theirs.pk, "word": of_crew.token, "kept": kept.pk}


def _changes(job: Job, extra: JobExtra) -> dict[str, object]:
    """Return the keys of a draft of a change, of its line, of what was sent, and its link."""
    made = make_change(job, photo=extra.photo)
    return {
        "change-draft": made.draft.pk,
        "change-line": made.draft.lines.get().pk,
        "change-offer": made.pk,
        "change-token": word_of(made.link),
    }


def _changed(day: WorkDay) -> DaysChange:
    """Return a change of a day, which was logged since."""
    as_it_lay = [kept_day(day)]
    return DaysChange.objects.create(
        job=day.job, kind="lost", date=day.date, reason="Rain", before=as_it_lay, after=as_it_lay
    )


def _noted(room: Room, owner: User) -> dict[str, object]:
    """Return the keys of a note with its photograph, offered to the crew, and of what is gone."""
    note = make_note(room, for_packet=True)
    gone = remove_stair(row=make_stair(room.job, "Back stair"), user=owner)
    return {"note": note.pk, "removal": gone.pk}


def _supplied(job: Job) -> dict[str, object]:
    """Return the keys of a material that the client supplies, and of a count of it."""
    caulk = SuppliedMaterial.objects.create(job=job, code="caulk", whose="client")
    receipt = caulk.receipts.create(counted=1, day=today_of(job.company))
    return {"supplied": caulk.pk, "receipt": receipt.pk}


def _sheet(job: Job) -> StoredFile:
    return store_file(
        company=job.company, content=b"sheet", name="sheet.pdf", content_type="application/pdf"
    )


def _loose_room(job: Job) -> Room:
    return make_room(job, name="Closet", size=(40, 30))


def _money(job: Job, owner: User, product: str) -> dict[str, object]:
    """Return the keys of an estimate without a quote, and of a quote with its token."""
    today = today_of(job.company)
    prices = [(price.code, "", price.amount) for price in STARTING_PRICES]
    for code, item, amount in [*prices, ("cartons", product, "60.00")]:
        PriceItem.objects.create(
            company=job.company,
            code=code,
            item=item,
            label=code,
            unit=_unit_of(code),
            amount=amount,
            effective_from=today,
        )
    first = money.make_estimate(job=job, user=owner, key="first", today=today)
    quote = money.issue_quote(estimate=first, user=owner, key="quote", today=today)
    second = money.make_estimate(job=job, user=owner, key="second", today=today)
    price = PriceItem.objects.get(code="pad")
    sheet = keep_price_file(company=job.company, content=b"material,price\npad,45\n", name="p.csv")
    rows = {
        "list": sheet.pk,
        "price": price.pk,
        "estimate": second.pk,
        "quote": quote.pk,
        "token": quote.token,
        "event": quote.events.create(kind="asked", text="Who moves the piano?").pk,
        "mail": _failed_mail(quote).pk,
    }
    return rows | _bought_and_timed(job, today)


def _failed_mail(quote: Quote) -> Mail:
    to = {"to": "ines@example.com", "key": "one", "kind": "quote", "about": f"quote:{quote.pk}"}
    return Mail.objects.create(
        company=quote.job.company, subject="Quote", text="Hello", state="failed", **to
    )


def _bought_and_timed(job: Job, today: date) -> dict[str, object]:
    """Return the keys of a purchase, a production rate, a line of the price and more."""
    bought = Purchase.objects.create(
        job=job,
        code="caulk",
        label="Caulk",
        quantity=2,
        unit="tube",
        amount=8,
        bought_on=today,
        receipt=make_photo(job.company),
    )
    rate = Rate.objects.create(
        company=job.company, task="setup", driver="visits", hours=2, source="our own"
    )
    line = JobLine.objects.create(job=job, label="Piano", quantity=1, unit="job", unit_cost=90)
    kept = JobAllowance.objects.create(
        job=job, label="Glue", units=2, unit="hour", unit_price=80, evidence="It shows."
    )
    call = Ballpark.objects.create(
        company=job.company, size="370", area_ft2=370, least=2000, most=2500, made_on=today
    )
    return (
        _billed(job)
        | _set_up(job.company)
        | _after_closing(job, today)
        | {
            "ballpark": call.pk,
            "purchase": bought.pk,
            "rate": rate.pk,
            "line": line.pk,
            "allowance": kept.pk,
        }
    )


def _after_closing(job: Job, today: date) -> dict[str, object]:
    """Return the keys of a callback, of rates taken from the logs, and of planks left over."""
    day, zone = job.days.earliest("pk"), job.zones.earliest("pk")
    rates: list[dict[str, object]] = [
        {"task": "lay", "driver": "rips", "item": "", "before": None, "after": {}}
    ]
    stock = LeftoverStock.objects.create(
        company=job.company, product=zone.product, planks=4, source=job, kept_on=today
    )
    return {
        "callback": Callback.objects.create(job=job, day=day, what="A board clicks").pk,
        "taking": RateTaking.objects.create(company=job.company, rates=rates).pk,
        "stock": stock.pk,
    }


def _billed(job: Job) -> dict[str, object]:
    """Return the keys of an invoice, a payment of it and a completion slip."""
    invoice = an_invoice_of(job)
    payment = a_payment_of(invoice)
    rows = {"invoice": invoice.pk, "payment": payment.pk, "slip": a_slip_of(job).pk}
    passport = a_passport_of(job)
    return rows | {"passport": passport.pk, "passport-token": passport.token}


def _set_up(company: Company) -> dict[str, object]:
    """Return the key of a notice of the company, which has a logo too."""
    company.logo = store_file(
        company=company, content=_a_png(), name="logo.png", content_type="image/png"
    )
    company.save()
    notice = StateNotice.objects.create(company=company, title="Liens", text="Read.", place=1)
    return {"notice": notice.pk, "logo": company.logo.pk}


def _a_png() -> bytes:
    written = BytesIO()
    Image.new("RGB", (8, 8)).save(written, "PNG")
    return written.getvalue()


def _unit_of(code: str) -> str:
    return CATALOG[code].unit
