"""What the homeowner takes on of a job: saved, or refused while a question is open."""

from __future__ import annotations

from collections.abc import Collection

from estimates.domain.options.work_split import CLIENT_TASKS, EVERYTHING, tasks_taken
from estimates.models import WorkSplit
from estimates.readers.options.work_split import codes_of, questions_on
from jobs.domain.checks import BadValueError, require_choice
from jobs.domain.tasks import TASKS
from jobs.models import Job, User
from jobs.readers.site import open_questions
from jobs.services.records import audit_job, save_versioned, writes_once

FIELDS = ("left_out", "everything")
ALL_THE_WORK = "all the work, the laying too"


@writes_once(WorkSplit, "split work")
def split_work(
    *, row: WorkSplit, user: User, key: str, expected: int, codes: Collection[str]
) -> WorkSplit:
    """Return the saved work split of a job, which learns what its crew leaves to the homeowner.

    Raises:
        StaleError: somebody else saved first.
        BadValueError: work that no homeowner takes on, or work on which an asbestos or lead
            question is open; it names the question.
    """
    for code in codes:
        require_choice("work", code, (*CLIENT_TASKS, EVERYTHING))
    _refuse_open(row, codes)
    row.everything = EVERYTHING in codes
    row.left_out = [] if row.everything else [code for code in CLIENT_TASKS if code in codes]
    if row._state.adding:  # noqa: SLF001  public by Django's documentation
        # Whoever saw no row sends version 1 too: what is saved first is then another version.
        row.version = expected + 1
        row.save()
    else:
        save_versioned(row, expected=expected, names=FIELDS)
    row.job.left_to_homeowner = list(tasks_taken(codes_of(row)))
    Job.objects.filter(pk=row.job_id).update(left_to_homeowner=row.job.left_to_homeowner)
    audit_job(job=row.job, user=user, act=f"Left to the homeowner: {_words(row)}")
    return row


def _refuse_open(row: WorkSplit, codes: Collection[str]) -> None:
    questions = open_questions(row.job)
    for code in codes:
        words = questions_on((code,), questions)
        if words:
            value = ALL_THE_WORK if code == EVERYTHING else TASKS[code].label
            accepted = f"once {words} is cleared; until then it stays with you"
            raise BadValueError(field=code, value=value, accepted=accepted)


def _words(row: WorkSplit) -> str:
    if row.everything:
        return ALL_THE_WORK
    return ", ".join(TASKS[code].label.lower() for code in row.left_out) or "nothing"
