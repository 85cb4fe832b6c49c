"""A day lost, moved, held or split: what would follow, then saved with a reason; undone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from jobs.access import (
    SignedInRequest,
    company_of,
    days_change_for,
    office,
    signed_in,
    writable_day_for,
)
from jobs.calendar import place_of, working_days
from jobs.clock import today_of
from jobs.domain.checks import BadValueError, as_sentence
from jobs.domain.days.moves import EffectLine
from jobs.forms.base import sent
from jobs.forms.days import DayPickForm, DaysChangeForm, DaySplitForm
from jobs.http import go_to, render_page
from jobs.models import DaysChange, WorkDay
from jobs.readers.board.board import BoardWeeks, board_of, conflicts_of
from jobs.readers.board.tentative import TentativeDays, conflict_lines
from jobs.readers.chart.effect import whole_effect
from jobs.readers.days import task_lines
from jobs.readers.path import path_context
from jobs.services.moved_days.replan import DayMove, replanned, seen_as, shown_as
from jobs.services.moved_days.saving import save_change, undo_change
from jobs.services.moved_days.split import split_choices
from jobs.views.edit_page import edits, say_done

Kind = DaysChange.Kind
TITLES = {
    Kind.LOST: "Lost day",
    Kind.MOVED: "Move day",
    Kind.HELD: "Hold a task of day",
    Kind.SPLIT: "Split day",
}
BUTTONS = {
    Kind.LOST: "Lose this day",
    Kind.MOVED: "Move the day",
    Kind.HELD: "Hold the task",
    Kind.SPLIT: "Split the day",
}
DONE = {
    Kind.LOST: "is lost",
    Kind.MOVED: "is moved",
    Kind.HELD: "has a task held to a date",
    Kind.SPLIT: "is split",
}


@edits
@signed_in
def day_lost(request: SignedInRequest, pk: int) -> HttpResponse:
    """Rain, no key, somebody ill: what is on this day comes later."""
    return _page(request, writable_day_for(request, pk), Kind.LOST)


@edits
@signed_in
def day_move(request: SignedInRequest, pk: int) -> HttpResponse:
    """A day goes to another date; what comes after follows it."""
    return _page(request, writable_day_for(request, pk), Kind.MOVED)


@edits
@signed_in
def day_hold(request: SignedInRequest, pk: int) -> HttpResponse:
    """A task of a day is not begun before a date."""
    return _page(request, writable_day_for(request, pk), Kind.HELD)


@edits
@signed_in
def day_split(request: SignedInRequest, pk: int) -> HttpResponse:
    """A part of a day or task stays; the rest goes on on another date, or with another crew."""
    return _page(request, writable_day_for(request, pk), Kind.SPLIT)


@require_POST
@office
def days_undo(request: SignedInRequest, pk: int) -> HttpResponse:
    """Put the days back as they lay before a change."""
    change = days_change_for(request, pk)
    try:
        undo_change(change=change, user=request.user, today=today_of(company_of(request)))
    except BadValueError as refused:
        messages.error(request, as_sentence(refused))
    else:
        say_done(request, "The days lie as they did before.")
    return go_to(request, "job-days", change.job_id)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Shown:
    """What would follow from a change, or why it can't be."""

    lines: list[EffectLine]
    refused: str = ""
    mark: str = ""
    board: BoardWeeks | None = None


def _page(request: SignedInRequest, day: WorkDay, kind: Kind) -> HttpResponse:
    """Return the page with the effect; save what was sent with its reason."""
    today = today_of(company_of(request))
    pick = None if kind == Kind.LOST else _picked(request, day, kind, today)
    form = DaysChangeForm(sent(request))
    move = _move(day, kind, pick)
    shown = _shown(move, today, pick) if move else _Shown(lines=[])
    if request.method == "POST" and form.is_valid() and move:
        saved = form.carry_out(
            lambda: save_change(
                move=move,
                user=request.user,
                key=form.once_key,
                reason=form.cleaned_data["reason"],
                seen=form.cleaned_data["seen"],
                shown=form.cleaned_data["shown"],
                today=today,
            )
        )
        if saved is not None:
            undo = reverse("days-undo", args=[saved.pk])
            say_done(request, f"Day {day.number} {DONE[kind]}: {saved.reason}", undo=undo)
            return go_to(request, "job-days", day.job_id)
    context = path_context(request, day.job, "Days") | {
        "day": day,
        "pick": pick,
        "form": form,
        "shown": shown,
        "board": shown.board,
        "today": today,
        "seen": _seen(day),
        "title": f"{TITLES[kind]} {day.number}" if kind != Kind.LOST else TITLES[kind],
        "button": BUTTONS[kind],
    }
    return render_page(request, "jobs/days/change.html", context, status=form.status)


def _seen(day: WorkDay) -> str:
    return seen_as(day.job.days.order_by("date"))


def _picked(request: SignedInRequest, day: WorkDay, kind: Kind, today: date) -> DayPickForm:
    """Return the form that picks a date, filled with the next working day until one is picked."""
    likely = {"to": _next_day(day).isoformat()}
    given = request.POST if request.method == "POST" else request.GET
    if kind == Kind.SPLIT:
        choices = split_choices(day)
        likely |= {"task": choices[0].key, "stays": choices[0].likely, "crew": str(day.crew_id)}
        return DaySplitForm(
            given if "to" in given else likely,
            company=company_of(request),
            tasks=[(choice.key, choice.words) for choice in choices],
            today=today,
        )
    names = {line.key: line.name for line in task_lines(day, {}) if line.task != "travel"}
    tasks = list(names.items()) if kind == Kind.HELD else []
    likely |= {"task": tasks[0][0]} if tasks else {}
    return DayPickForm(given if "to" in given else likely, tasks=tasks, today=today)


def _next_day(day: WorkDay) -> date:
    """Return the next working day."""
    works = working_days(place=place_of(day.job.company))
    following = day.date + timedelta(days=1)
    while not works(following):
        following += timedelta(days=1)
    return following


def _move(day: WorkDay, kind: Kind, pick: DayPickForm | None) -> DayMove | None:
    if pick is None:
        return DayMove(kind=kind, day=day)
    if not pick.is_valid():
        return None
    return DayMove(kind=kind, day=day, **pick.cleaned_data)


def _shown(move: DayMove, today: date, pick: DayPickForm | None) -> _Shown:
    """Return what would follow; what is refused stands by its field."""
    try:
        plan = replanned(move, today)
    except BadValueError as refused:
        if pick is None or refused.field not in pick.fields:
            return _Shown(lines=[], refused=as_sentence(refused))
        pick.add_error(refused.field, as_sentence(refused))
        return _Shown(lines=[])
    change = TentativeDays(job=move.day.job, now=plan.now, then=plan.then)
    monday = change.first - timedelta(days=change.first.weekday())
    board = board_of(move.day.job.company, monday=monday, today=today, change=change)
    conflicts = conflicts_of(move.day.job.company, today=today)
    lines = [
        *whole_effect(move.day, plan.now, plan.then),
        *conflict_lines(conflicts, board.conflicts),
    ]
    return _Shown(lines=lines, mark=shown_as(plan), board=board)
