"""Long work that the worker does for the jobs app."""

from __future__ import annotations

import time

from django.utils import timezone

from jobs.models import FloorZone, Job
from jobs.readers.backups.standing import KIND as KIND_OF_BACKUP
from jobs.services import packets
from jobs.services.backups import errands as backups
from jobs.services.floors import comparison, spending
from jobs.services.mail import outbox, sender
from jobs.services.plans import KIND, keep_plan, plan_request
from jobs.services.sweeping import sweep
from jobs.worker.claims import Effect
from jobs.worker.daily import daily
from jobs.worker.errands import Attempt, handler
from layout.planner.effort import Progress


@handler(KIND)
def plan_floor_zone(attempt: Attempt) -> Effect:
    """Plan the floor that was asked for; the plan is kept together with "done"."""
    request = attempt.payload["request"]
    began, effort = time.monotonic(), float(request["effort_s"])
    best = ""

    def tell(progress: Progress | None = None) -> None:
        nonlocal best
        if progress is not None:
            best = f"{progress.planks} planks, {progress.lower_bound} at least; looking for fewer"
        share = min(0.95, (time.monotonic() - began) / max(effort, 1.0))
        attempt.progress(share, best or "Laying the first plan")

    def stop() -> bool:
        tell()
        return attempt.should_stop()

    judged = plan_request(request, stop=stop, progress=tell)

    def keep() -> dict[str, object]:
        zone = FloorZone.objects.select_related("job__company").get(pk=attempt.payload["zone"])
        return {"plan": keep_plan(zone=zone, judged=judged, user=attempt.errand.asked_by).pk}

    return keep


@handler(packets.KIND)
def print_job_packet(attempt: Attempt) -> Effect:
    """Print the packet of a job; it is kept together with "done"."""
    jobs = Job.objects.select_related("company", "client", "agreed_scope__document")
    return packets.effect_of(
        attempt.errand,
        jobs.get(pk=attempt.payload["job"]),
        with_access=bool(attempt.payload.get("access")),
        tell=attempt.progress,
    )


@handler(comparison.KIND)
def compare_floor(attempt: Attempt) -> Effect:
    """Plan the alternatives of a floor one after the other; all is kept together with "done"."""
    alternatives = attempt.payload["asked"]
    zone = FloorZone.objects.select_related("job__company", "product").get(
        pk=attempt.payload["zone"]
    )
    attempt.progress(0.02, f"0 of {len(alternatives)} alternatives")

    def tell(done: int) -> None:
        attempt.progress(done / len(alternatives), f"{done} of {len(alternatives)} alternatives")

    rows = comparison.compare(zone, alternatives, stop=attempt.should_stop, tell=tell)
    asked_by = attempt.errand.asked_by
    return lambda: comparison.keep_compared(zone, rows, asked_by)


@handler(spending.KIND)
def spend_planks(attempt: Attempt) -> Effect:
    """Plan a floor with what its last carton leaves; the plan is kept with "done", not taken."""
    request = attempt.payload["request"]
    began, effort = time.monotonic(), float(request["effort_s"])

    def stop() -> bool:
        share = min(0.95, (time.monotonic() - began) / max(effort, 1.0))
        attempt.progress(share, "Looking for what the planks buy")
        return attempt.should_stop()

    tried = spending.try_spending(request, stop=stop)
    return lambda: tried


@handler(outbox.KIND)
def send_posted_mail(attempt: Attempt) -> Effect | None:
    """Send a mail; where it is to be tried again, that is asked for together with "done"."""
    return sender.send_mail(attempt.payload["mail"])


daily(KIND_OF_BACKUP)


@handler(KIND_OF_BACKUP)
def save_the_book(attempt: Attempt) -> Effect:
    """Make a backup; what became of it is kept with "done"."""
    made = backups.carry_out(attempt.payload, tell=attempt.progress)
    return lambda: made


daily(sweep.KIND)


@handler(sweep.KIND)
def sweep_the_book(attempt: Attempt) -> Effect:
    """Clear away what ran out; how many went of each is kept with "done"."""
    swept = sweep.sweep_book(timezone.now())
    return lambda: dict(swept)
