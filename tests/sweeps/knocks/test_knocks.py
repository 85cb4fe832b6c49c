"""A few hundred knocks; ``python -m tests.sweeps.knocks`` knocks as often as it is told to."""

from __future__ import annotations

import pytest

from tests.access_world import build_world
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
    wanted.tally = knocked(street, seed=wanted.seed, count=wanted.count)
    assert sum(wanted.tally.statuses.values()) == wanted.count
    assert wanted.tally.faults == []


def test_most_doors_have_a_form_to_knock_with(street: Street) -> None:
    assert len({form.action for form in street.forms}) > 120
    assert any(form.files for form in street.forms)
