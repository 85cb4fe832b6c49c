"""A closed job is a fact: its review is frozen, and what comes later stands beside it."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from io import BytesIO

import pytest
from django.apps import apps
from PIL import Image

from estimates.apps import freeze_older
from estimates.models import ClosedReview, Purchase, PurchaseOf
from estimates.readers.review.across import closed_reviews, crew_of, floor_of, grouped, quarter_of
from estimates.readers.review.closed import shown_review, stored_review
from estimates.readers.review.reviewed import Reviewed
from estimates.readers.review.since import since_closing
from estimates.services import purchases
from estimates.services.review.closing import close_job, freeze_closed_jobs, reopen_job
from jobs.clock import today_of
from jobs.domain.checks import BadValueError
from jobs.domain.formats import BrokenDocumentError
from jobs.models import Callback, Job, LogEntry, StoredFile, User, WorkDay
from jobs.services.closed.callbacks import open_callback
from jobs.services.closed.corrections import correct_entry
from jobs.services.day_log.undoing import take_back
from jobs.services.files import read_file
from jobs.services.log import LogLine, Photo, record_log
from tests.builders import make_crew, make_person
from tests.estimates.a_job import company_of, log

pytestmark = pytest.mark.django_db
RATE = Decimal(48)


def a_day(job: Job) -> WorkDay:
    """A working day of yesterday, so that today's closing comes after it."""
    crew = make_crew(job.company, make_person(job.company, "crew"))
    assert job.agreed_scope is not None
    on = today_of(job.company) - timedelta(days=1)
    return WorkDay.objects.create(
        job=job, crew=crew, scope=job.agreed_scope, number=1, date=on, hours=8
    )


def buy(job: Job, owner: User, kind: str, paid: str, **more: object) -> Purchase:
    values = {"kind": kind, "code": "cartons", "label": "Flooring", "quantity": Decimal(1)}
    values |= {"unit": "carton", "amount": Decimal(paid), "bought_on": date(2027, 3, 1)}
    values |= {"supplier": "", "note": "", "product": None, "lot": ""} | more
    key = f"{kind}-{paid}-{job.purchases.count()}"
    return purchases.add_purchase(job=job, user=owner, key=key, values=values)


@pytest.fixture
def closed(job: Job, owner: User) -> Job:
    """A job with 10 h of laying and a carton for 60.00, closed."""
    log(a_day(job), "lay", "10", zone="Den", note="Bowed wall.")
    buy(job, owner, PurchaseOf.BOUGHT, "60.00")
    return close_job(job=job, user=owner)


def frozen(job: Job) -> ClosedReview:
    return job.closed_reviews.get(reopened_at__isnull=True)


def shown(job: Job) -> Reviewed:
    review = shown_review(Job.objects.get(pk=job.pk))
    assert review is not None
    return review


def test_closing_freezes_the_review(closed: Job) -> None:
    row, content = frozen(closed), stored_review(frozen(closed))
    real = content.review.real
    assert (real.labor, real.material) == (Decimal("480.00"), Decimal("60.00"))
    assert row.contribution == real.contribution == row.price - Decimal("540.00")
    assert row.cost == Decimal("540.00")
    assert [note.text for note in content.notes] == ["Bowed wall."]
    assert content.burdened_rate == RATE
    assert row.crew == WorkDay.objects.get().crew.name
    assert shown(closed).closed_on == row.closed_on.isoformat()


def test_a_frozen_review_is_read_back_whole(closed: Job) -> None:
    from estimates.readers.review.reviewed import reviewed

    live = reviewed(closed)
    assert live is not None
    assert stored_review(frozen(closed)).review == live.review


def test_a_spoiled_review_says_so(closed: Job) -> None:
    document = frozen(closed).document
    type(document).objects.filter(pk=document.pk).update(text=document.text.replace("480", "4"))
    with pytest.raises(BrokenDocumentError):
        shown_review(closed)


def test_closed_twice_there_is_one_review(closed: Job, owner: User) -> None:
    close_job(job=closed, user=owner)
    assert closed.closed_reviews.count() == 1


def test_a_correction_never_changes_what_was_closed(closed: Job, owner: User) -> None:
    before = frozen(closed).document.text
    entry = LogEntry.objects.get()
    correct_entry(entry=entry, user=owner, key="c1", hours=Decimal("8.5"), reason="Lunch counted.")
    correct_entry(entry=entry, user=owner, key="c1", hours=Decimal("8.5"), reason="Lunch counted.")
    assert frozen(closed).document.text == before
    assert shown(closed).review.real.labor == Decimal("480.00")
    (said,) = since_closing(closed, RATE).entries
    assert "8.5 h in place of 10 h. Lunch counted." in said.what
    # 1.5 h at 48.00.
    assert (said.amount, said.who) == (Decimal("72.00"), owner.name)


def test_a_second_correction_is_held_against_the_first(closed: Job, owner: User) -> None:
    entry = LogEntry.objects.get()
    for key, hours in (("c1", "8"), ("c2", "9")):
        correct_entry(entry=entry, user=owner, key=key, hours=Decimal(hours), reason="Again.")
    amounts = [said.amount for said in since_closing(closed, RATE).entries]
    assert amounts == [Decimal("96.00"), Decimal("-48.00")]


def test_an_open_log_is_not_corrected(job: Job, owner: User) -> None:
    entry = log(a_day(job), "lay", "10", zone="Den")
    with pytest.raises(BadValueError, match="open"):
        correct_entry(entry=entry, user=owner, key="c", hours=Decimal(8), reason="Lunch.")


def test_what_was_closed_is_not_taken_back(closed: Job, owner: User) -> None:
    with pytest.raises(BadValueError, match="correction"):
        take_back(entry=LogEntry.objects.get(), user=owner)
    purchase = Purchase.objects.get()
    with pytest.raises(BadValueError, match="closed since"):
        purchases.remove_purchase(purchase=purchase, user=owner)
    with pytest.raises(BadValueError, match="closed since"):
        purchases.change_purchase(
            purchase=purchase, user=owner, key="x", expected=1, values={"amount": Decimal(1)}
        )


def test_a_log_that_comes_late_counts_beside(closed: Job) -> None:
    log(WorkDay.objects.get(), "clean", "2")
    (said,) = since_closing(closed, RATE).entries
    assert said.what.startswith("Logged late: Clean, hand over")
    assert said.amount == Decimal("-96.00")
    assert shown(closed).review.real.labor == Decimal("480.00")


def test_a_return_after_closing_counts_beside(closed: Job, owner: User) -> None:
    buy(closed, owner, PurchaseOf.RETURNED, "57.00")
    since = since_closing(closed, RATE)
    assert since.amount == Decimal("57.00")
    assert shown(closed).review.real.material == Decimal("60.00")


def open_one(job: Job, owner: User, **more: object) -> Callback:
    values = {"what": "A board clicks", "cause": "our work"}
    kept: dict[str, object] = {
        "on": today_of(job.company),
        "crew": WorkDay.objects.earliest("pk").crew,
        "key": "callback",
    }
    return open_callback(job=job, user=owner, values=values, **kept | more)  # type: ignore[arg-type]


def test_a_callback_is_logged_on_a_day_of_its_own_and_is_a_charge(closed: Job, owner: User) -> None:
    callback = open_one(closed, owner)
    assert open_one(closed, owner).pk == callback.pk
    who = callback.day.crew.members.get()
    line = LogLine(task="lay", zone="Den", hours=Decimal("1.5"))
    record_log(day=callback.day, who=who, user=who, key="back", lines=[line])
    bought = buy(closed, owner, PurchaseOf.BOUGHT, "12.50", callback=callback)
    assert bought.callback == callback
    (charge,) = since_closing(closed, RATE).callbacks
    # 1.5 h at 48.00 = 72.00, and 12.50 of material; on the very day of closing too.
    assert (charge.hours, charge.cost) == (Decimal("1.5"), Decimal("84.50"))
    assert since_closing(closed, RATE).amount == Decimal("-84.50")
    assert shown(closed).review.real.labor == Decimal("480.00")


def test_an_open_job_has_no_callback(job: Job, owner: User) -> None:
    a_day(job)
    with pytest.raises(BadValueError, match="closed job"):
        open_one(job, owner)


def test_a_logged_day_is_no_callback(closed: Job, owner: User) -> None:
    with pytest.raises(BadValueError, match="logged already"):
        open_one(closed, owner, on=WorkDay.objects.get().date)


def test_a_reopened_job_gets_another_review_with_what_was_corrected(
    closed: Job, owner: User
) -> None:
    correct_entry(
        entry=LogEntry.objects.get(), user=owner, key="c", hours=Decimal(8), reason="Lunch."
    )
    reopen_job(job=closed, user=owner)
    again = close_job(job=Job.objects.get(pk=closed.pk), user=owner)
    assert [row.number for row in again.closed_reviews.all()] == [2, 1]
    assert shown(again).review.real.labor == 8 * RATE
    assert since_closing(again, RATE).entries == ()


def test_jobs_closed_before_get_their_review_once(closed: Job, owner: User) -> None:
    contribution = frozen(closed).contribution
    ClosedReview.objects.all().delete()
    assert freeze_closed_jobs() == 1
    assert freeze_closed_jobs() == 0
    assert frozen(closed).contribution == contribution


def test_the_migration_that_brings_reviews_freezes_what_was_closed(closed: Job) -> None:
    ClosedReview.objects.all().delete()
    config = apps.get_app_config("estimates")

    class FirstReviews:
        name = "0099_returns_receipts_and_closed_reviews"

    freeze_older(sender=config, plan=[(FirstReviews(), True)])  # type: ignore[list-item]
    assert not ClosedReview.objects.exists()
    freeze_older(sender=config, plan=[(FirstReviews(), False)])  # type: ignore[list-item]
    assert frozen(closed).number == 1


def test_a_job_without_a_log_is_closed_without_a_review(job: Job, owner: User) -> None:
    close_job(job=job, user=owner)
    assert freeze_closed_jobs() == 0
    assert not job.closed_reviews.exists()


def test_a_receipt_is_kept_as_a_picture_written_anew(job: Job, owner: User) -> None:
    written = BytesIO()
    Image.new("RGB", (40, 30)).save(written, "PNG")
    written.seek(0)
    photo = Photo(upload=written, size=len(written.getvalue()), name="receipt.png")
    values = {"kind": "bought", "code": "caulk", "label": "Caulk", "quantity": 1, "unit": "tube"}
    values |= {"amount": 4, "bought_on": date(2027, 3, 1), "product": None, "lot": ""}
    row = purchases.add_purchase(job=job, user=owner, key="r", values=values, receipt=photo)
    assert isinstance(row.receipt, StoredFile)
    assert read_file(row.receipt).startswith(b"\xff\xd8")
    text = Photo(upload=BytesIO(b"<script>"), size=8, name="receipt.jpg")
    with pytest.raises(BadValueError, match="a picture"):
        purchases.add_purchase(job=job, user=owner, key="s", values=values, receipt=text)


def test_closed_jobs_stand_by_crew_floor_and_quarter(closed: Job, owner: User) -> None:
    rows = closed_reviews(company_of(owner))
    (by_crew,) = grouped(rows, crew_of)
    assert (by_crew.jobs, by_crew.contribution) == (1, rows[0].contribution)
    assert by_crew.a_day == rows[0].contribution / 1
    assert [group.name for group in grouped(rows, floor_of)] == ["Rigid vinyl core"]
    day = rows[0].closed_on
    assert grouped(rows, quarter_of)[0].name == f"{day.year}, quarter {(day.month - 1) // 3 + 1}"
