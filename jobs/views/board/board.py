"""The crew board: weeks across, crews and people down; conflicts, each kept only with a reason."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from django.contrib import messages
from django.http import HttpResponse
from django.views.decorators.http import require_POST, require_safe

from jobs.access import SignedInRequest, company_of, kept_conflict_for, office
from jobs.clock import today_of
from jobs.domain.board.conflicts import Conflict
from jobs.domain.checks import BadValueError
from jobs.forms.base import sent
from jobs.forms.board.kept import KeepForm
from jobs.http import go_to, render_page
from jobs.models import KeptConflict
from jobs.readers.board.board import WEEK, WEEKS, board_of, conflicts_of
from jobs.readers.board.waiting import waiting_jobs
from jobs.services.board.kept import keep_conflict, take_up_conflict


@require_safe
@office
def board(request: SignedInRequest) -> HttpResponse:
    """Who is where in the weeks from a day on, what can't be, and what is not on days yet."""
    return _page(request)


@require_POST
@office
def board_keep(request: SignedInRequest) -> HttpResponse:
    """Keep a conflict, with the reason."""
    company = company_of(request)
    form = KeepForm(sent(request))
    if form.is_valid():
        key, reason = form.cleaned_data["conflict"], form.cleaned_data["reason"]

        def keep() -> KeptConflict:
            conflict = _still_there(conflicts_of(company, today=today_of(company)), key)
            return keep_conflict(
                company=company, user=request.user, conflict=conflict, reason=reason
            )

        if form.carry_out(keep) is not None:
            messages.success(request, "The conflict is kept, with your reason.")
            return go_to(request, "board")
    return _page(request, refused=form)


@require_POST
@office
def board_take_up(request: SignedInRequest, pk: int) -> HttpResponse:
    """Let a conflict that was kept stand as open again."""
    take_up_conflict(kept=kept_conflict_for(request, pk), user=request.user)
    messages.success(request, "The conflict is open again.")
    return go_to(request, "board")


def _still_there(conflicts: Iterable[Conflict], key: str) -> Conflict:
    for conflict in conflicts:
        if conflict.key == key:
            return conflict
    accepted = "a conflict that is on the board; this one is gone or has changed"
    raise BadValueError(field="conflict", value="not there any more", accepted=accepted)


def _page(request: SignedInRequest, refused: KeepForm | None = None) -> HttpResponse:
    company, today = company_of(request), today_of(company_of(request))
    monday = _monday(request.GET.get("from", ""), today)
    board = board_of(company, monday=monday, today=today)
    kept = board.kept
    open_ones = [one for one in board.conflicts if one.key not in kept]
    context = {
        "board": board,
        "open": [(one, _form(number, one, refused)) for number, one in enumerate(open_ones)],
        "kept": [(one, kept[one.key]) for one in board.conflicts if one.key in kept],
        "refused": refused,
        "unplaced": _unplaced(open_ones, refused),
        "waiting": waiting_jobs(company, board.by_penciled),
        "today": today,
        "monday": monday,
        "last": monday + WEEKS * WEEK - timedelta(days=1),
        "before": monday - WEEK,
        "after": monday + WEEK,
    }
    status = refused.status if refused else 200
    return render_page(request, "jobs/board/board.html", context, status=status)


def _form(number: int, conflict: Conflict, refused: KeepForm | None) -> KeepForm:
    """Return the form that keeps a conflict: the refused one where it was about this."""
    same = refused is not None and refused.data.get("conflict") == conflict.key
    form = refused if refused is not None and same else KeepForm()
    form.auto_id = f"id_%s_{number}"
    form.fields["conflict"].initial = conflict.key
    return form


def _unplaced(conflicts: Iterable[Conflict], refused: KeepForm | None) -> str:
    """Return the reason that was typed for a conflict that is no longer there."""
    if refused is None or refused.data.get("conflict") in {one.key for one in conflicts}:
        return ""
    return str(refused.data.get("reason", ""))


def _monday(typed: str, today: date) -> date:
    """Return the Monday of a week that was named, of this week where none can be read."""
    try:
        wanted = date.fromisoformat(typed)
        monday = wanted - timedelta(days=wanted.weekday())
        _ = monday - WEEK, monday + (WEEKS + 1) * WEEK
    except (ValueError, OverflowError):
        return today - timedelta(days=today.weekday())
    return monday
