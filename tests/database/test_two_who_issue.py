"""Two owners issue the same draft at the same moment: one does, the other is told to look again."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection

from estimates.models import Quote
from estimates.readers.draft.preview import digest_of, previewed
from estimates.readers.draft.rows import draft_row
from estimates.services.draft.drafts import issue_draft
from jobs.domain.checks import BadValueError
from jobs.models import Job, User
from tests.builders import make_person, make_planned_job
from tests.estimates.a_job import TODAY, an_owner, company_of

pytestmark = pytest.mark.django_db(transaction=True)


def test_one_issues_and_the_other_is_told_to_look_again() -> None:
    owner = an_owner()
    other = make_person(company_of(owner))
    job = make_planned_job(company_of(owner))
    seen = digest_of(previewed(draft_row(job), TODAY))
    together = Barrier(2)

    def issue(person: User) -> str:
        together.wait(timeout=20)
        try:
            fresh = Job.objects.get(pk=job.pk)
            issue_draft(job=fresh, user=person, key=f"by-{person.pk}", today=TODAY, seen=seen)
        except BadValueError as refused:
            return str(refused)
        finally:
            connection.close()
        return "issued"

    with ThreadPoolExecutor(2) as people:
        said = sorted(people.map(issue, (owner, other)))
    assert said[0] == "issued"
    assert "look at it again" in said[1]
    assert Quote.objects.get().number == 1
