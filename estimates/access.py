"""Who may see money: the office alone, and whoever holds a quote's link for that one quote."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.db.models import Prefetch, QuerySet
from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404

from estimates.models import (
    Ballpark,
    ChangeDraft,
    ChangeLine,
    ChangeOffer,
    CompletionSlip,
    Estimate,
    FloorPassport,
    Invoice,
    InvoicePayment,
    JobAllowance,
    JobLine,
    PriceItem,
    Purchase,
    Quote,
    QuoteEvent,
    QuoteLink,
    StateNotice,
)
from jobs.access import SignedInRequest, company_of, job_for, jobs_for
from jobs.clock import today_of
from jobs.domain.link_token import token_hash
from jobs.models import Job, RateTaking, StoredFile, User

PRICE_FILE = "text/csv"
"""The kind of a file of prices that somebody sent."""

LOGO_NAME = "logo.png"
"""What the file of a logo is called; photographs are called otherwise."""


def priced_job_for(request: SignedInRequest, pk: int) -> Job:
    """Return a job whose prices this person may see and make.

    Raises Http404 for strangers, PermissionDenied for the crew.
    """
    job = job_for(request, pk)
    _refuse_crew(request)
    return job


def estimate_for(request: SignedInRequest, pk: int) -> Estimate:
    """Return an estimate of the company. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = Estimate.objects.select_related("job__company", "job__client", "document", "scope")
    return get_object_or_404(rows, job__company=company_of(request), pk=pk)


def quote_for(request: SignedInRequest, pk: int) -> Quote:
    """Return a quote of the company. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    return get_object_or_404(_quotes(), job__company=company_of(request), pk=pk)


def quote_by_link(request: HttpRequest, token: str) -> Quote:
    """Return the quote that this link opens. Raises Http404 for a link that opens nothing."""
    return quote_link(request, token).quote


def quote_link(request: HttpRequest, token: str) -> QuoteLink:
    """Return the link with this word, its quote with it.

    Raises Http404 for a word that was guessed, and for a link that was revoked or is past its day.
    """
    links = QuoteLink.objects.filter(revoked_at=None).prefetch_related(
        Prefetch("quote", queryset=_quotes())
    )
    link = get_object_or_404(links, token_hash=token_hash(token))
    if link.expires_on is not None and today_of(link.quote.job.company) > link.expires_on:
        message = f"Link {link.pk} opened its quote until {link.expires_on}."
        raise Http404(message)
    return link


def is_one_of_us(request: HttpRequest, quote: Quote) -> bool:
    """Whether somebody of the company that sent a quote looks at it: nobody saw it by that."""
    user = request.user
    return isinstance(user, User) and user.company_id == quote.job.company_id


def quote_event_for(request: SignedInRequest, pk: int) -> QuoteEvent:
    """Return what happened to a quote. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = QuoteEvent.objects.select_related("quote__job__company")
    return get_object_or_404(rows, quote__job__company=company_of(request), pk=pk)


def change_draft_for(request: SignedInRequest, pk: int) -> ChangeDraft:
    """Return the draft of a change. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = ChangeDraft.objects.filter(dropped_at__isnull=True)
    rows = rows.select_related("job__company", "job__client", "photo", "extra__who")
    return get_object_or_404(rows, job__company=company_of(request), pk=pk)


def change_line_for(request: SignedInRequest, pk: int) -> ChangeLine:
    """Return a line of a draft. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = ChangeLine.objects.select_related("draft__job__company")
    return get_object_or_404(rows, draft__job__company=company_of(request), pk=pk)


def change_offer_for(request: SignedInRequest, pk: int) -> ChangeOffer:
    """Return a change that was sent. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    return get_object_or_404(_offers(), job__company=company_of(request), pk=pk)


def change_by_link(token: str) -> ChangeOffer:
    """Return the change order that this link opens. Raises Http404 for a link to nothing."""
    open_links = {"link__token_hash": token_hash(token), "link__revoked_at__isnull": True}
    return get_object_or_404(_offers(), **open_links)


def invoice_for(request: SignedInRequest, pk: int) -> Invoice:
    """Return an invoice of the company. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = Invoice.objects.select_related(
        "job__company", "job__client", "document", "pdf", "replaces", "replaced_by"
    )
    return get_object_or_404(rows, job__company=company_of(request), pk=pk)


def payment_for(request: SignedInRequest, pk: int) -> InvoicePayment:
    """Return a payment of the company. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = InvoicePayment.objects.select_related("invoice__job__company", "invoice__job__client")
    return get_object_or_404(rows, invoice__job__company=company_of(request), pk=pk)


def slip_for(request: SignedInRequest, pk: int) -> CompletionSlip:
    """Return a completion slip of a job this person may see; it names no price. Or Http404."""
    rows = CompletionSlip.objects.select_related("pdf", "document", "job__company")
    return get_object_or_404(rows, job__in=jobs_for(request), pk=pk)


def passport_by_token(token: str) -> FloorPassport:
    """Return the floor passport that a link's word opens. Raises Http404 for one that opens none.

    It stays open after the job is closed, until it is revoked.
    """
    rows = FloorPassport.objects.filter(revoked_at__isnull=True)
    rows = rows.select_related("job__company__logo", "job__agreed_scope__document")
    return get_object_or_404(rows, token_hash=token_hash(token))


def passport_for(request: SignedInRequest, pk: int) -> FloorPassport:
    """Return a floor passport of the company. Raises PermissionDenied for the crew, or Http404."""
    _refuse_crew(request)
    rows = FloorPassport.objects.select_related("job__company")
    return get_object_or_404(rows, job__company=company_of(request), pk=pk)


def purchase_for(request: SignedInRequest, pk: int) -> Purchase:
    """Return a purchase of the company. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = Purchase.objects.select_related("job__company")
    return get_object_or_404(rows, job__company=company_of(request), pk=pk)


def taking_for(request: SignedInRequest, pk: int) -> RateTaking:
    """Return rates taken from the logs. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    return get_object_or_404(RateTaking, company=company_of(request), pk=pk)


def price_for(request: SignedInRequest, pk: int) -> PriceItem:
    """Return a price of a material. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = PriceItem.objects.filter(kind="material").select_related("company")
    return get_object_or_404(rows, company=company_of(request), pk=pk)


def price_line_for(request: SignedInRequest, pk: int) -> JobLine:
    """Return a line of a job's price. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = JobLine.objects.select_related("job__company", "job__client")
    return get_object_or_404(rows, job__company=company_of(request), pk=pk)


def allowance_for(request: SignedInRequest, pk: int) -> JobAllowance:
    """Return an allowance of a job. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = JobAllowance.objects.select_related("job__company", "job__client")
    return get_object_or_404(rows, job__company=company_of(request), pk=pk)


def ballpark_for(request: SignedInRequest, pk: int) -> Ballpark:
    """Return a ballpark of the company. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    rows = Ballpark.objects.select_related("company", "job", "made_by")
    return get_object_or_404(rows, company=company_of(request), pk=pk)


def notice_for(request: SignedInRequest, pk: int) -> StateNotice:
    """Return a notice of the company, for the owner. Raises PermissionDenied, else Http404."""
    if not request.user.is_owner:
        raise PermissionDenied("The set-up is the owner's.")
    rows = StateNotice.objects.select_related("company")
    return get_object_or_404(rows, company=company_of(request), pk=pk)


def logo_for(request: SignedInRequest, pk: int) -> StoredFile:
    """Return a logo that the company has, or had on papers that are out. Raises Http404."""
    files = StoredFile.objects.filter(name=LOGO_NAME, content_type="image/png")
    return get_object_or_404(files, company=company_of(request), pk=pk)


def price_file_for(request: SignedInRequest, pk: int) -> StoredFile:
    """Return a file of prices. Raises PermissionDenied for the crew, else Http404."""
    _refuse_crew(request)
    files = StoredFile.objects.filter(content_type=PRICE_FILE)
    return get_object_or_404(files, company=company_of(request), pk=pk)


def _quotes() -> QuerySet[Quote]:
    return Quote.objects.select_related(
        "job__company", "job__client", "document", "pdf", "estimate", "acceptance"
    )


def _offers() -> QuerySet[ChangeOffer]:
    return ChangeOffer.objects.select_related(
        "job__company", "job__client", "job__agreed_scope__document", "document", "pdf", "link"
    ).select_related("draft__photo", "scope")


def _refuse_crew(request: SignedInRequest) -> None:
    if not request.user.is_office:
        message = "Prices are for the owner and the estimators."
        raise PermissionDenied(message)
