"""The page of backups: which there are, one made now, where they lie, how one is restored."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import SignedInRequest, company_of, owner
from jobs.http import go_to, render_page, wants_part
from jobs.readers.backups.shelf import made_backups, shelf
from jobs.readers.backups.standing import backup_standing, last_backup_errand
from jobs.services.backups.errands import ask_for_backup
from jobs.worker.errands import worker_is_running


@require_safe
@owner
def backup_list(request: SignedInRequest) -> HttpResponse:
    """The backups in the folder, newest first, and the one that is being made."""
    errand = last_backup_errand()
    backups = made_backups()
    context = {
        "backups": backups,
        "safe": backup_standing(company_of(request)),
        "errand": errand,
        "active": errand is not None and errand.is_active,
        "worker": worker_is_running(),
        "folder": shelf(),
        "second": settings.BACKUP_COPY_TO,
        "hour": settings.BACKUP_HOUR,
        "encrypted": bool(settings.BACKUP_AGE_RECIPIENT),
    }
    return render_page(request, "jobs/trust/backups.html", context)


@require_POST
@owner
def backup_make(request: SignedInRequest) -> HttpResponse:
    """Ask for a backup now."""
    ask_for_backup(company=company_of(request), user=request.user)
    return go_to(request, "backup-list")


@require_safe
@owner
def backup_progress(request: SignedInRequest) -> HttpResponse:
    """How far the backup is; once it has ended, the page of the backups."""
    errand = last_backup_errand()
    if errand is None or not errand.is_active or not wants_part(request):
        return go_to(request, "backup-list")
    context = {"errand": errand, "worker": worker_is_running()}
    return render_page(request, "jobs/trust/backups.html", context, part="progress")
