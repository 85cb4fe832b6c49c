"""A few hundred knocks; ``python -m tests.sweeps.knocks`` knocks as often as it is told to."""

from __future__ import annotations

from pathlib import Path

import pytest

from jobs.models import Client
from tests.access_world import build_world
from tests.builders import make_company, make_job
from tests.sweeps.knocks.book import WatchedBook
from tests.sweeps.knocks.knocking import Street, knocked
from tests.sweeps.knocks.tally import PLUGIN, Knocks

pytestmark = pytest.mark.django_db

SEED, COUNT = 12, 200


@pytest.fixture(name="street")
def the_street(unset_paper: None) -> Street:
    """A company with one of everything, and everybody who knocks."""
    return Street(build_world())


def test_no_knock_is_a_fault_and_no_refusal_writes(
    street: Street, request: pytest.FixtureRequest
) -> None:
    wanted = request.config.pluginmanager.get_plugin(PLUGIN) or Knocks(SEED, COUNT)
    tally = knocked(street, wanted)
    assert tally.count == wanted.count
    assert tally.faults == []


def test_a_row_changed_without_a_version_is_seen() -> None:
    make_job(make_company())
    book = WatchedBook.read()
    with book.watched():
        Client.objects.update(name="Somebody else")
    assert book.changed() == ["jobs_client"]
    assert book.changed() == []


def test_a_run_broken_off_goes_on_where_it_was(tmp_path: Path) -> None:
    first = Knocks(12, 80, record=tmp_path / "run.json")
    first.tally.statuses.update({200: 30, 422: 10})
    first.tally.faults.append("12:7: 500")
    first.keep()
    again = Knocks(12, 80, record=tmp_path / "run.json")
    assert (again.tally.count, again.tally.faults) == (40, ["12:7: 500"])
    with pytest.raises(ValueError, match="is of seed 12"):
        Knocks(13, 80, record=tmp_path / "run.json")


def test_most_doors_have_a_form_to_knock_with(street: Street) -> None:
    assert len({form.action for form in street.forms}) > 120
    assert any(form.files for form in street.forms)
