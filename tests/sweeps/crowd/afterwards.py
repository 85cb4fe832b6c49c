"""What is looked at afterwards: every acknowledged write, every file, every mail, every archive."""

from __future__ import annotations

import hashlib
from collections import Counter

from django.db import connection

from jobs.models import DayLog, Errand, LogPhoto, Mail, MailState, StoredFile
from jobs.models.work import ACTIVE
from jobs.readers.backups.shelf import NOTE, made_backups, shelf
from jobs.services.backups.archive import opened
from jobs.services.files import path_of
from tests.mail_server import Mailbox
from tests.sweeps.crowd.people import Doings
from tests.sweeps.crowd.site import CrowdSite

LOCKED = ("database is locked", "database table is locked", "deadlock detected")


def writes_missing(doings: Doings) -> list[str]:
    """Return what is wrong with the writes: one that was acknowledged and is gone, or is twice."""
    counted = Counter(DayLog.objects.values_list("note", flat=True))
    pictures = Counter(LogPhoto.objects.values_list("log__note", flat=True))
    promised = doings.logs | doings.photographs
    faults = [
        f"log {key} was acknowledged and is gone" for key in sorted(promised) if not counted[key]
    ]
    faults += [f"log {key} is there {count} times" for key, count in counted.items() if count > 1]
    faults += [f"log {key} was sent by nobody" for key in counted if key not in doings.sent]
    faults += [
        f"log {key} has {pictures[key]} photographs, 1 was acknowledged"
        for key in doings.photographs
        if pictures[key] != 1
    ]
    empty = DayLog.objects.filter(entries=None).values_list("note", flat=True)
    return faults + [f"log {key} is half written" for key in empty]


def files_broken() -> list[str]:
    """Return the files that rows know and that are gone or are not what was stored."""
    faults = []
    for name in set(StoredFile.objects.values_list("sha256", flat=True)):
        place = path_of(name)
        if not place.is_file():
            faults.append(f"file {name} is gone")
        elif hashlib.sha256(place.read_bytes()).hexdigest() != name:
            faults.append(f"file {name} is not what was stored")
    return faults


def archives_broken() -> list[str]:
    """Return what is wrong with the archives that bear their good name.

    One that was let go of meanwhile, its note first, is none: the worker may still be at a backup.
    """
    faults = []
    for backup in made_backups():
        try:
            with opened(shelf() / backup.name):
                pass
        except (ValueError, OSError) as trouble:
            if (shelf() / f"{backup.name}{NOTE}").exists():
                faults.append(f"{backup.name}: {trouble}")
    return faults


def book_broken() -> list[str]:
    """Return what the database finds wrong with itself: its pages, and rows that point nowhere."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA integrity_check")
            said = [str(row[0]) for row in cursor.fetchall()]
            cursor.execute("PRAGMA foreign_key_check")
            return [line for line in said if line != "ok"] + [
                f"points nowhere: {row}" for row in cursor.fetchall()
            ]
        for table in connection.introspection.table_names(cursor):
            cursor.execute(f'SELECT * FROM "{table}"')
            cursor.fetchall()
    return []


def mails_wrong(box: Mailbox) -> list[str]:
    """Return the mails that came twice, and those that stand as sent and did not come."""
    came = Counter(str(mail["Message-ID"]) for mail in box.came)
    to = Counter(str(mail["To"]) for mail in box.came)
    faults = [f"{mark} came {count} times" for mark, count in came.items() if count > 1]
    faults += [
        f"{mail.to} stands as sent and came {to[mail.to]} times"
        for mail in Mail.objects.filter(state=MailState.SENT)
        if to[mail.to] != 1
    ]
    unknown = Mail.objects.filter(state=MailState.QUEUED).exclude(next_try_at=None)
    return faults + [f"{mail.to} was posted and never tried" for mail in unknown if not mail.tries]


def errands_left() -> int:
    """Return how many errands wait or are under way."""
    return Errand.objects.filter(state__in=ACTIVE).count()


def locked_lines(site: CrowdSite) -> list[str]:
    """Return the lines of web, worker and backup that tell of a book that was locked."""
    text = "\n".join(site.lines(kind) for kind in ("web", "work", "backup"))
    return [line for line in text.splitlines() if any(word in line for word in LOCKED)]


def all_faults(site: CrowdSite, doings: Doings) -> list[str]:
    """Return whatever is wrong with book, files, archives and writes."""
    wrong = [*writes_missing(doings), *files_broken(), *archives_broken(), *book_broken()]
    return wrong + [f"the log says: {line}" for line in locked_lines(site)]
