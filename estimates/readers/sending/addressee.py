"""Whom a quote goes to: who pays for the job, else its client."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.models import Client, ClientKind, Job
from jobs.readers.payers.payer import payer_row


@dataclass(frozen=True, kw_only=True, slots=True)
class Addressee:
    """Who is written to, and how; what is not known is empty."""

    name: str
    greeting: str
    email: str
    phone: str


def addressee_of(job: Job) -> Addressee:
    """Return whom the quotes of a job go to."""
    payer: Client | None = payer_row(job).payer
    client = payer or job.client
    first = client.name.split(" ")[0] if client.kind == ClientKind.HOMEOWNER else ""
    return Addressee(
        name=client.name,
        greeting=f"Hello {first}".strip(),
        email=client.email,
        phone=client.phone,
    )
