"""What the migration that tells jobs of their work split does to splits that were there before."""

from __future__ import annotations

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from jobs.domain.tasks import TASKS
from tests.estimates.a_price import Given
from tests.estimates.test_book_migration import at

BEFORE, AFTER = "0009_payers_unit_prices", "0010_work_split_on_the_job"
SPLITS: dict[int, Given] = {
    1: {"left_out": ["dispose", "furniture"]},
    2: {"everything": True},
    3: {"left_out": []},
}


@pytest.mark.django_db(transaction=True)
def test_each_job_learns_what_its_homeowner_does() -> None:
    old = at(BEFORE)
    company = old.get_model("jobs", "Company").objects.create(name="Fernwood Floors")
    client = old.get_model("jobs", "Client").objects.create(company=company, name="Ines Okafor")
    for number in range(1, 5):
        job = old.get_model("jobs", "Job").objects.create(
            company=company, client=client, number=number, title="Den", units="imperial"
        )
        if number in SPLITS:
            old.get_model("estimates", "WorkSplit").objects.create(job=job, **SPLITS[number])

    jobs = at(AFTER).get_model("jobs", "Job").objects.order_by("number")

    # Who loads the old floor drives it to the dump.
    assert [sorted(job.left_to_homeowner) for job in jobs] == [
        ["dispose", "dump_run", "furniture"],
        sorted(TASKS),
        [],
        [],
    ]
    MigrationExecutor(connection).migrate(MigrationExecutor(connection).loader.graph.leaf_nodes())
