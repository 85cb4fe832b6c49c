"""A change order on paper: frozen content in, PDF out."""

from __future__ import annotations

from base64 import b64encode

from django.template.loader import render_to_string

from estimates.domain.change_order import OrderContent
from estimates.readers.setup.sales import letterhead_of
from jobs.models import Company, StoredFile
from jobs.pdf import render_pdf
from jobs.services.files import read_file


def order_pdf(company: Company, content: OrderContent, photo: StoredFile | None) -> bytes:
    """Return a change order as a tagged PDF, with the company's letterhead and its photograph."""
    context = {
        "order": content,
        "letterhead": letterhead_of(company),
        "photo": picture_in(photo) if photo else "",
        "logo": picture_in(company.logo) if company.logo else "",
        "paper": company.paper,
        "company_name": company.name,
        "job_number": content.job_number,
        "issue": f"Change order {content.number}",
        "title": f"Change order {content.number}: {content.title}",
    }
    return render_pdf(html=render_to_string("estimates/orders/print.html", context))


def picture_in(stored: StoredFile) -> str:
    """Return a stored picture as an address that holds it, so that paper fetches nothing."""
    return f"data:{stored.content_type};base64,{b64encode(read_file(stored)).decode()}"
