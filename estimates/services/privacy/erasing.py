"""A client erased: by the owner, or by the worker once the time that the owner set is over."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from estimates.models import PassportEdition
from estimates.services.privacy.wiping import ERASED, wipings
from jobs.domain.checks import BadValueError
from jobs.domain.keeping import months_before
from jobs.models import AuditLine, Client, Company, Document, Job, Packet, StoredFile, User
from jobs.services.records import audit
from jobs.services.sweeping.orphans import drop_unneeded_files
from jobs.services.sweeping.photographs import take_photographs

KIND = "erase-clients"


def open_jobs(client: Client) -> list[Job]:
    """Return the jobs that keep a client from being erased: neither closed nor archived."""
    theirs = client.jobs.all() | Job.objects.filter(job_payer__payer=client)
    rows = theirs.filter(closed_at__isnull=True, archived_at__isnull=True)
    return list(rows.distinct().order_by("number"))


@transaction.atomic
def erase_client(*, client: Client, user: User | None) -> Client:
    """Return the client without a name, and all that was kept of the person wiped.

    What was issued stays as it was issued (`wiping`).

    Raises BadValueError while a job of theirs is open.
    """
    kept = Client.objects.select_for_update().get(pk=client.pk)
    if kept.erased_at is not None:
        return kept
    if jobs := open_jobs(kept):
        shown = ", ".join(f"job {job.number}" for job in jobs[:3])
        raise BadValueError(
            field="client", value=f"of {shown}, not closed", accepted="closed or archived jobs"
        )
    keys = list(kept.jobs.values_list("pk", flat=True))
    files = _files_of(keys)
    words = [kept.name, kept.email, kept.phone, *kept.jobs.values_list("title", flat=True)]
    take_photographs(kept.jobs.all())
    documents = _documents_of(keys)
    for wiping in wipings(kept, keys):
        if wiping.values:
            wiping.rows.update(**wiping.values)
        else:
            wiping.rows.delete()
    Document.objects.filter(pk__in=documents).delete()
    _wipe_names(kept)
    _wipe_lines(kept, keys, [word for word in words if word])
    drop_unneeded_files(StoredFile.objects.filter(pk__in=files))
    subject = f"client {kept.pk}"
    audit(user=user, company=kept.company, subject=subject, act=f"Erased client {kept.pk}")
    return kept


def _documents_of(jobs: list[int]) -> set[int]:
    """Return the keys of the frozen documents that no law asks for: packets and passports."""
    packets = Packet.objects.filter(job__in=jobs)
    editions = PassportEdition.objects.filter(passport__job__in=jobs)
    return {key for rows in (packets, editions) for key in rows.values_list("document", flat=True)}


def _files_of(jobs: list[int]) -> set[int]:
    """Return the keys of the files of these jobs' packets, which nothing needs afterwards."""
    packets = Packet.objects.filter(job__in=jobs)
    keys = set(packets.values_list("pdf", flat=True))
    keys |= set(packets.exclude(changed_pdf=None).values_list("changed_pdf", flat=True))
    return {int(key) for key in keys}


def _wipe_names(client: Client) -> None:
    for job in client.jobs.all():
        title, address = f"{ERASED}, job {job.number}", ERASED
        Job.objects.filter(pk=job.pk).update(title=title, address=address, version=job.version + 1)
    client.name, client.email, client.phone = f"{ERASED} {client.pk}", "", ""
    client.address, client.note, client.erased_at = "", "", timezone.now()
    client.version += 1
    client.save()


def _wipe_lines(client: Client, jobs: list[int], words: list[str]) -> None:
    """Take the person out of the audit: the lines stay, who is spoken of does not."""
    subjects = [f"client {client.pk}", *(f"job {pk}" for pk in jobs)]
    for line in AuditLine.objects.filter(company=client.company, subject__in=subjects):
        act = line.act
        for word in sorted(words, key=len, reverse=True):
            act = act.replace(word, ERASED)
        if act != line.act:
            AuditLine.objects.filter(pk=line.pk).update(act=act)


def clients_past_their_time(company: Company, now: datetime) -> list[Client]:
    """Return the clients whose last job was closed longer ago than the owner keeps clients."""
    if company.clients_months is None:
        return []
    until = months_before(now, company.clients_months)
    clients = company.clients.filter(erased_at__isnull=True).annotate(last=Max("jobs__closed_at"))
    return [client for client in clients.filter(last__lt=until) if not open_jobs(client)]


def erase_past_their_time(now: datetime) -> dict[str, int]:
    """Erase every client whose time is over; return how many."""
    clients = [
        client
        for company in Company.objects.filter(clients_months__isnull=False)
        for client in clients_past_their_time(company, now)
    ]
    for client in clients:
        erase_client(client=client, user=None)
    return {"clients": len(clients)}
