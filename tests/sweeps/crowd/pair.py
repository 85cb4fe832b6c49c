"""Two webs and two workers on one database and one folder: no errand twice, sessions shared."""

from __future__ import annotations

import re
from collections import Counter

from django.urls import reverse

from jobs.models import Errand, Role, User
from tests.builders import PASSWORD
from tests.mail_server import Mailbox
from tests.sweeps.crowd.afterwards import mails_wrong
from tests.sweeps.crowd.book import FilledBook
from tests.sweeps.crowd.kills import mails_posted, wait_for_errands
from tests.sweeps.crowd.load import Load, lines_of, loaded
from tests.sweeps.crowd.people import form, send
from tests.sweeps.crowd.site import CrowdSite

BEGAN = re.compile(r"errand (\d+) \(\S+ \S+\) begins")


def paired(
    site: CrowdSite, book: FilledBook, wanted: Load, box: Mailbox, engine: str
) -> tuple[list[str], bool]:
    """Let the crowd work at both webs by turns; return what came of it."""
    site.environment["LOG_LEVEL"] = "INFO"
    ports = [site.start_web(), site.start_web()]
    site.start_worker()
    site.start_worker()
    faults = sessions_wrong(book, ports)
    with mails_posted(book.company, 0.3) as posted:
        came = loaded(site, book, wanted, ports)
    faults += wait_for_errands() + mails_wrong(box) + errands_twice(site)
    lines = lines_of(wanted, came, engine)
    shares = [str(len(set(begun))) for begun in begun_by_worker(site)]
    lines.append(f"errands by worker: {' and '.join(shares)}; mails posted {posted['mails']}")
    return [*lines, *faults], not faults + came.faults and not came.doings.errors


def begun_by_worker(site: CrowdSite) -> list[list[str]]:
    """Return the errands that each worker's log says it began."""
    logs = sorted(site.folder.glob("work-*.log"))
    return [BEGAN.findall(log.read_text(errors="replace")) for log in logs]


def errands_twice(site: CrowdSite) -> list[str]:
    """Return the errands that were begun twice, and workers that did nothing."""
    begun = begun_by_worker(site)
    counted = Counter(number for worker in begun for number in worker)
    faults = [f"errand {number} was begun {n} times" for number, n in counted.items() if n > 1]
    faults += [f"worker {number} did nothing" for number, done in enumerate(begun, 1) if not done]
    again = Errand.objects.filter(attempts__gt=1).values_list("pk", flat=True)
    return faults + [f"errand {number} took more than one attempt" for number in again]


def sessions_wrong(book: FilledBook, ports: list[int]) -> list[str]:
    """Sign in at one web, read at the other, sign out there: one session for both."""
    one, other = ports
    owner = User.objects.get(company=book.company, role=Role.OWNER)
    fields = {"username": owner.email, "password": PASSWORD}
    cookie = signed_in_at(one, fields)
    page = reverse("client-list")
    before = send(other, cookie, page).status
    send(other, cookie, reverse("sign-out"), form({}))
    after = send(one, cookie, page).status
    if (before, after) == (200, 302):
        return []
    return [f"signed in at one web, the other answers {before}; signed out there, {after} here"]


def signed_in_at(port: int, fields: dict[str, str]) -> str:
    """Return the cookie of a session begun with a password."""
    return send(port, "", reverse("sign-in"), form(fields)).cookie
