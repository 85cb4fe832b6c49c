"""Days: a job laid onto days, the week of the crews, one day, a crew's calendar. No prices here."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from decimal import Decimal

from django.contrib import messages
from django.http import HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from jobs.access import (
    SignedInRequest,
    company_of,
    crew_for,
    crews_for,
    day_for,
    days_for,
    job_for,
    sees_access,
    signed_in,
    writable_job_for,
)
from jobs.calendar import (
    CalendarDay,
    HolidayPlace,
    crew_calendar,
    place_of,
    why_not_worked,
    working_days,
)
from jobs.clock import day_ends, today_of
from jobs.domain.checks import ZERO
from jobs.domain.days.placed.least import least_hours
from jobs.domain.formats import BrokenDocumentError
from jobs.domain.scope.changed.changes import scope_changes
from jobs.domain.scope.scope import FrozenScope
from jobs.domain.site.facts import Caution
from jobs.domain.site.moisture_gates import OF_SUBFLOOR
from jobs.forms.base import sent
from jobs.forms.days import DaysForm
from jobs.http import Context, go_to, render_page
from jobs.models import Crew, Job, PenciledCrew, Scope, WorkDay
from jobs.readers.chart.drawn import draw_days, standing_lines
from jobs.readers.chart.lanes import day_lanes
from jobs.readers.chart.placed import placed_job
from jobs.readers.chart.sheets import chart_sheets
from jobs.readers.crews_day.arrival import day_clock
from jobs.readers.crews_day.day import reading_at
from jobs.readers.crews_day.extras import agreed_extras
from jobs.readers.current_plan.sheets import floors_by_name
from jobs.readers.day_log.left_over import rows_left
from jobs.readers.day_log.questions import answers_hours, questions_of_day
from jobs.readers.days import (
    half_hours_words,
    homeowners_work,
    is_ahead,
    laid_hours,
    open_holds_of,
    summed_up,
    task_lines,
)
from jobs.readers.lived_in.notices import days_facts
from jobs.readers.log import entry_lines, rows_laid
from jobs.readers.packets.standing import packet_standing
from jobs.readers.path import path_context
from jobs.readers.scope import agreed_scope_of, scope_value
from jobs.readers.site import cautions_of
from jobs.services.days import Wish, lay_out_days
from jobs.services.penciled.penciled import WISHED
from jobs.services.penciled.standing import penciled_standing
from jobs.services.scope import changes_since_agreed
from jobs.views.edit_page import edits

WEEK = timedelta(days=7)


@edits
@signed_in
def job_days(request: SignedInRequest, pk: int) -> HttpResponse:
    """The days of a job; the office lays its work onto them."""
    job = job_for(request, pk)
    if request.method == "POST":
        job = writable_job_for(request, pk)
    company, today = company_of(request), today_of(company_of(request))
    form = DaysForm(sent(request), company=company, today=today, initial=_likely(job, today))
    if request.method == "POST" and form.is_valid():
        wish = Wish(**{name: form.cleaned_data[name] for name in Wish.__dataclass_fields__})
        days = form.carry_out(
            lambda: lay_out_days(job=job, user=request.user, wish=wish, today=today)
        )
        if days is not None:
            said = f"The work lies on {len(days)} days." if days else "There are no crew days."
            messages.success(request, said)
            return go_to(request, "job-days", job.pk)
    context = path_context(request, job, "Days") | _standing(job) | {"form": form}
    context["any_crew"] = company.crews.exists()
    context["packet_standing"] = packet_standing(job)
    if request.user.is_office:
        context |= _drift(job) | _penciled(job, today)
    return render_page(request, "jobs/days/days.html", context, status=form.status)


@require_safe
@signed_in
def day_list(request: SignedInRequest) -> HttpResponse:
    """The week of every crew this person may see."""
    today = today_of(company_of(request))
    monday = _monday(request.GET.get("week", ""), today)
    days = days_for(request).filter(date__gte=monday, date__lt=monday + WEEK)
    by_crew: dict[int, list[WorkDay]] = defaultdict(list)
    for day in days.order_by("date", "job"):
        by_crew[day.crew_id].append(day)
    place = place_of(company_of(request))
    week = [monday + timedelta(days=number) for number in range(7)]
    context = {
        "crews": [
            (crew, _week_lines(by_crew[crew.pk], week, place)) for crew in crews_for(request)
        ],
        "monday": monday,
        "sunday": week[-1],
        "before": monday - WEEK,
        "after": monday + WEEK,
        "today": today,
        "this_week": monday <= today < monday + WEEK,
    }
    return render_page(request, "jobs/days/week.html", context)


@require_safe
@signed_in
def day(request: SignedInRequest, pk: int) -> HttpResponse:
    """One day: where, who, what, what to mind, and what was logged."""
    day, today = day_for(request, pk), today_of(company_of(request))
    still_open = open_holds_of(day.job)
    holds = still_open if is_ahead(day, today) else {}
    log = day.log.select_related("who", "photo", "day")
    lines = task_lines(day, holds)
    context = path_context(request, day.job, "Days") | {
        "day": day,
        "lines": lines,
        "agreed": agreed_extras(day.job),
        "half_hours": half_hours_words(laid_hours(lines)),
        "drives": any(line.task == "travel" for line in lines),
        "cautions": [c for c in cautions_of(day.job) if "packet" in c.shown_on],
        "still_open": still_open,
        "open_holds": holds,
        "clock": day_clock(day),
        "reading": reading_at(day, holds.values()),
        "by_reading": OF_SUBFLOOR,
        "clearances": day.job.clearances.all(),
        "site": getattr(day.job, "site", None),
        "sees_access": sees_access(request, day.job),
        "until": "" if request.user.is_office else day_ends(day.job.company, today),
        "members": day.crew.members.all(),
        "log": entry_lines(log, request.user),
        "rows_laid": rows_laid(log),
        "logs": day.logs.select_related("teller").prefetch_related("photos"),
        "questions": questions_of_day(day),
        "may_answer": answers_hours(request.user, day),
        "packet": packet_standing(day.job),
        "floor_plans": [
            (floor.name, floor.mark.plan) for floor in floors_by_name(day.job).values()
        ],
        "count": day.job.days.count(),
        "today": today,
    }
    return render_page(request, "jobs/days/day.html", context)


@require_safe
@signed_in
def calendar_file(request: SignedInRequest, pk: int) -> HttpResponse:
    """The days of a crew as an iCalendar file."""
    crew = crew_for(request, pk)
    days = WorkDay.objects.filter(crew=crew).select_related("job__client").order_by("date")
    entries = (_in_calendar(request, day) for day in days)
    return HttpResponse(
        crew_calendar(name=f"{crew.name}, {company_of(request).name}", days=entries),
        content_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="crew-{crew.pk}.ics"'},
    )


def _in_calendar(request: SignedInRequest, day: WorkDay) -> CalendarDay:
    tasks = [one.text for one in summed_up(task_lines(day, {}))]
    page = request.build_absolute_uri(reverse("day", args=[day.pk]))
    return CalendarDay(
        key=f"job-{day.job_id}-day-{day.pk}",
        date=day.date,
        title=f"Job {day.job.number}: {day.job.title}, day {day.number}",
        place=", ".join(day.job.address.splitlines()),
        text="\n".join([*tasks, page]),
        changed_at=day.changed_at,
    )


def _monday(typed: str, today: date) -> date:
    """Return the Monday of the week asked for, of this week where none can be read."""
    try:
        wanted = date.fromisoformat(typed)
        monday = wanted - timedelta(days=wanted.weekday())
        _ = monday - WEEK, monday + 2 * WEEK
    except (ValueError, OverflowError):
        return today - timedelta(days=today.weekday())
    return monday


def _week_lines(
    days: Iterable[WorkDay], week: list[date], place: HolidayPlace
) -> list[dict[str, object]]:
    """Return a line for every day of work, and for every weekday without any."""
    by_date: dict[date, list[WorkDay]] = defaultdict(list)
    for day in days:
        by_date[day.date].append(day)
    lines: list[dict[str, object]] = []
    for one in week:
        lines += [
            {
                "date": one,
                "day": day,
                "tasks": summed_up(task_lines(day, {})),
                "laid": half_hours_words(laid_hours(task_lines(day, {}))),
            }
            for day in by_date.get(one, [])
        ]
        if one not in by_date and one.weekday() < 5:
            lines.append({"date": one, "day": None, "why": why_not_worked(one, place)})
    return lines


def _likely(job: Job, today: date) -> dict[str, object]:
    """Return what the form of a job's days shows first: its crew, else the only one; a start."""
    last = job.days.select_related("crew").order_by("date").last()
    penciled = PenciledCrew.objects.filter(job=job).select_related("crew").first()
    if penciled is not None and last is None:
        start = max(today, penciled.start)
        return {name: getattr(penciled, name) for name in WISHED} | {"start": start}
    crews = list(job.company.crews.all()[:2])
    crew: Crew | None = last.crew if last else (crews[0] if len(crews) == 1 else None)
    logged = job.days.filter(log__isnull=False).order_by("date").last()
    start = max(today, logged.date + timedelta(days=1)) if logged else today
    works = working_days(place=place_of(job.company))
    while not works(start):
        start += timedelta(days=1)
    return {"crew": crew, "start": start}


def _standing(job: Job) -> Context:
    """Return the days as they stand, and where the scope has moved away from under them."""
    holds = open_holds_of(job)
    days = list(job.days.select_related("crew", "scope__document").prefetch_related("log"))
    agreed, newest = job.agreed_scope, job.scopes.select_related("document").first()
    value = agreed_scope_of(job)
    logged = max((day.date for day in days if day.log.all()), default=None)
    today = today_of(job.company)
    lines = [
        {
            "day": day,
            "tasks": summed_up(task_lines(day, holds)),
            "laid": half_hours_words(laid_hours(task_lines(day, {}))),
            "logged": day.log.all(),
            "may_move": day.date >= today and (logged is None or day.date > logged),
        }
        for day in days
    ]
    return _chart(value, days, holds) | {
        "lines": lines,
        "facts": days_facts(job, value, days, today),
        "on_no_day": rows_left([job.pk], today),
        "changed": job.days_changes.select_related("who")[:5],
        "kept": sum(bool(line["logged"]) for line in lines),
        "hours": sum(day.hours for day in days),
        "laid": half_hours_words(sum((laid_hours(task_lines(day, {})) for day in days), ZERO)),
        "floor_walkable": _floor_walkable(days),
        "agreed": agreed,
        "schedule": value.schedule if value else None,
        "crews_hours": value.crews_hours if value else None,
        "homeowner": homeowners_work(value, days) if value else (),
        "no_crew": value is not None and not value.has_crew,
        "theirs_on_days": value is not None and _holds_theirs(value, days),
        "open_holds": holds,
        "newer": newest if agreed and newest and newest.pk != agreed.pk else None,
        "newer_changes": _changes(agreed, newest),
        "older": next((day.scope for day in days if day.scope_id != job.agreed_scope_id), None),
    }


def _chart(scope: FrozenScope | None, days: list[WorkDay], holds: Mapping[str, Caution]) -> Context:
    """Return the drawing of the days, their lanes and why each task stands where it stands."""
    placed = placed_job(scope, days, holds)
    if placed is None:
        return {}
    return {
        "chart": draw_days(placed, days),
        "chart_sheets": chart_sheets(placed, days),
        "lanes": day_lanes(placed, days),
        "standings": standing_lines(placed),
        "least": least_hours(placed.placed, placed.clock, len(placed.people)),
    }


def _floor_walkable(days: Iterable[WorkDay]) -> date | None:
    """Return the day on which the last row goes down."""
    laying = [day.date for day in days if any(entry["task"] == "lay" for entry in day.entries)]
    return max(laying, default=None)


def _holds_theirs(scope: FrozenScope, days: Iterable[WorkDay]) -> bool:
    """Whether days that are still to be worked give the crew what the homeowner does."""
    ahead = [day for day in days if not day.log.all()]
    return any(entry["task"] in scope.left for day in ahead for entry in day.entries)


def _penciled(job: Job, today: date) -> Context:
    """Return how the crew that is penciled in stands to the price, with its days."""
    standing = penciled_standing(job, today)
    days = standing.days if standing else ()
    lines = [
        {
            "date": date.fromisoformat(day["date"]),
            "tasks": day["tasks"],
            "hours": half_hours_words(Decimal(day["hours"])),
        }
        for day in days
    ]
    return {"penciled": standing, "penciled_days": lines, "can_pencil": job.zones.exists()}


def _drift(job: Job) -> Context:
    """Return whether the scope has changed since it was agreed, or why that can't be told."""
    try:
        return {"drifted": bool(changes_since_agreed(job))}
    except BrokenDocumentError as broken:
        return {"broken": broken}


def _changes(agreed: Scope | None, newest: Scope | None) -> list[str]:
    """Return in words what a newer scope does differently from the agreed one."""
    if agreed is None or newest is None or agreed.pk == newest.pk:
        return []
    try:
        newer = scope_value(newest)
    except BrokenDocumentError as broken:
        return [str(broken)]
    return [change.text for change in scope_changes(scope_value(agreed), newer)]
