"""The page on which a company is set up, part by part in the order of need."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from estimates.access import logo_for
from estimates.domain.setup.caps import cap_rows, examples
from estimates.forms.setup.base import SetupForm, SetupRows
from estimates.forms.setup.further import LogoForm, NoticeForm
from estimates.forms.setup.parts import (
    ContactForm,
    LawForm,
    LicenseForm,
    NumbersForm,
    PaymentWaysForm,
    TermsPartForm,
)
from estimates.readers.prices import terms_row
from estimates.readers.setup.page import rule_of, summaries_of
from estimates.readers.setup.sales import (
    advised_for_sending,
    missing_for_sending,
    sales_terms,
)
from estimates.services.setup import company as services
from estimates.services.setup import logo, notices
from jobs.access import SignedInRequest, company_of, owner, signed_in
from jobs.forms.base import OnceForm, files_sent, sent
from jobs.http import Context
from jobs.models import Company
from jobs.services.files import serve
from jobs.views.edit_page import edit_page, edits, picked

PLAIN_PARTS: tuple[type[SetupForm], ...] = (
    *(ContactForm, LicenseForm, LawForm, PaymentWaysForm),
    *(TermsPartForm, NumbersForm),
)
ORDER = ("contact", "license", "logo", "law", "payment", "terms", "numbers", "notices")
"""The parts of the page by need: the first stop a quote, the last few companies have."""

Write = Callable[[], object]


@dataclass(frozen=True, kw_only=True, slots=True)
class SetupPart:
    """A part of the page: its form, how it is saved, and what it says while it is closed."""

    key: str
    title: str
    form: OnceForm
    write: Write
    summary: str = ""
    is_open: bool = False


@edits
@owner
def company_setup(request: SignedInRequest) -> HttpResponse:
    """Everything that a company says once; each part is saved on its own."""
    company = company_of(request)
    parts = {part.key: part for part in _parts(request, company)}
    chosen = parts.get(request.POST.get("part", ""), parts["contact"])
    opened = chosen.key if request.method == "POST" else _to_open(request, company)
    return edit_page(
        request,
        form=chosen.form,
        write=lambda: (chosen.write(),),
        done=f"Saved: {chosen.title.lower()}.",
        to=lambda _: _next_of(chosen.key),
        context=_context(company, parts, opened),
        template="estimates/setup/setup.html",
    )


@require_safe
@signed_in
def company_logo(request: SignedInRequest, pk: int) -> HttpResponse:
    """A logo as it is printed."""
    return serve(logo_for(request, pk))  # type: ignore[return-value]


def _context(company: Company, parts: dict[str, SetupPart], opened: str) -> Context:
    sales, price = sales_terms(company), terms_row(company)
    summaries = summaries_of(company, sales, price)
    shown = [replace(parts[key], summary=summaries[key], is_open=key == opened) for key in ORDER]
    return {
        "parts": shown,
        "missing": missing_for_sending(company),
        "advised": advised_for_sending(company),
        "logo": company.logo_id,
        "examples": examples(rule_of(sales, price)),
        "caps": list(cap_rows()),
        "notices": list(company.state_notices.all()),
    }


def _parts(request: SignedInRequest, company: Company) -> list[SetupPart]:
    """Return every part; the one that was sent is bound to what was typed."""
    rows = SetupRows(company=company, sales=sales_terms(company), price=terms_row(company))
    part = request.POST.get("part", "contact")
    plain = [
        _plain_part(request, kind(rows, sent(request) if kind.part == part else None))
        for kind in PLAIN_PARTS
    ]
    further = [_logo_part(request, company, part), _notices_part(request, company, part)]
    return plain + further


def _plain_part(request: SignedInRequest, form: SetupForm) -> SetupPart:
    company, user = form.rows.company, request.user
    if isinstance(form, NumbersForm):

        def write() -> object:
            return services.set_numbering(
                company=company,
                user=user,
                key=form.once_key,
                sales=form.change_of("sales"),
                next_job=form.cleaned_data["next_job"],
            )

    else:

        def write() -> object:
            title = form.title.lower()
            changes = form.changes
            return services.save_setup(
                company=company, user=user, key=form.once_key, part=title, changes=changes
            )

    return SetupPart(key=form.part, title=form.title, form=form, write=write)


def _logo_part(request: SignedInRequest, company: Company, part: str) -> SetupPart:
    is_sent = part == LogoForm.part
    if is_sent and request.POST.get("do") == "remove":
        return _logo_removal(request, company)
    form = LogoForm(
        sent(request) if is_sent else None,
        files_sent(request) if is_sent else None,
        prefix=LogoForm.part,
        version=company.version,
    )
    return _logo_with(
        form,
        lambda: logo.set_logo(
            company=company,
            user=request.user,
            key=form.once_key,
            expected=form.cleaned_data["version"],
            png=form.cleaned_data["logo"],
        ),
    )


def _logo_removal(request: SignedInRequest, company: Company) -> SetupPart:
    form = OnceForm(sent(request), prefix=LogoForm.part)
    return _logo_with(
        form,
        lambda: logo.remove_logo(company=company, user=request.user, key=form.once_key),
    )


def _logo_with(form: OnceForm, write: Write) -> SetupPart:
    return SetupPart(key=LogoForm.part, title=LogoForm.title, form=form, write=write)


def _notices_part(request: SignedInRequest, company: Company, part: str) -> SetupPart:
    form = NoticeForm(sent(request) if part == NoticeForm.part else None, prefix=NoticeForm.part)
    return SetupPart(
        key=NoticeForm.part,
        title=NoticeForm.title_of_part,
        form=form,
        write=lambda: notices.add_notice(
            company=company,
            user=request.user,
            key=form.once_key,
            values=picked(form, notices.NOTICE_FIELDS),
        ),
    )


def _to_open(request: SignedInRequest, company: Company) -> str:
    """Return the part that stands open: the one asked for, else the first that is not set up."""
    opened = request.GET.get("open", "")
    if opened in ORDER:
        return opened
    if missing_for_sending(company):
        return "contact"
    advice = [lacks.part for lacks in advised_for_sending(company)]
    return next((key for key in ORDER if key in advice), "")


def _next_of(key: str) -> str:
    """Return where the page leads once a part is saved: to the one behind it, opened."""
    page = reverse("company-setup")
    if key == ORDER[-1]:
        return f"{page}?open={key}#{key}"
    follows = ORDER[ORDER.index(key) + 1]
    return f"{page}?open={follows}#{follows}"
