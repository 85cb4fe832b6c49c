"""Every text of the jobs that was ever written is read, and written again byte for byte.

Once a form has a newer format, its older texts are only read.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.domain.documents import canonical_json, restore, stored
from jobs.domain.formats import DocumentForm, Fields, adding
from jobs.domain.packet.content import PACKET, packet_from
from jobs.domain.plans.stored import PLAN, REQUEST, plan_from, request_from
from jobs.domain.scope.scope import SCOPE, FrozenScope, scope_from, scope_text
from layout.values.plan_form import plan_to_json
from tests.jobs.kept import (
    a_packet,
    a_scheduled_scope,
    a_scope,
    a_scope_by_room,
    a_split_scope,
    an_agreed_scope,
    as_format_1,
    as_format_2,
    as_format_3,
    kept,
)


@stored("zones quantities tasks places schedule rates left_to_homeowner tolerance")
@dataclass(frozen=True, kw_only=True, slots=True)
class WiderScope(FrozenScope):
    """A scope of the next format: it has one field more."""

    tolerance: Decimal = Decimal(0)


WIDER_SCOPE = DocumentForm(
    kind="scope", word="scope", upgrades=(*SCOPE.upgrades, adding("tolerance", "0.25"))
)


def wider_scope_from(fields: Fields) -> WiderScope:
    """The reader of the next format: as today's, with one field more."""
    return restore(WiderScope, {key: fields[key] for key in fields if key != "hours"}, "scope")


def test_a_scope_is_written_as_it_always_was() -> None:
    assert scope_text(an_agreed_scope()) == kept("scope-5")


def test_a_scope_of_format_5_is_read() -> None:
    assert scope_from(SCOPE.read(kept("scope-5"))) == an_agreed_scope()


def test_a_scope_of_format_4_is_read() -> None:
    assert scope_from(SCOPE.read(kept("scope-4"))) == a_scope_by_room()


def test_a_scope_of_format_3_is_read_with_its_older_days() -> None:
    assert scope_from(SCOPE.read(kept("scope-3"))) == as_format_3(a_split_scope())


def test_a_scope_of_format_2_is_read_and_does_not_say_who_does_what() -> None:
    assert scope_from(SCOPE.read(kept("scope-2"))) == as_format_2(as_format_3(a_scheduled_scope()))


def test_a_scope_of_format_1_is_read_without_days_rates_and_places() -> None:
    assert scope_from(SCOPE.read(kept("scope-1"))) == as_format_1(a_scope())
    assert as_format_1(a_scheduled_scope()) == as_format_1(a_scope())


def test_a_scope_with_one_field_more_is_still_read() -> None:
    scope = wider_scope_from(WIDER_SCOPE.read(kept("scope-1")))
    assert (scope.tolerance, scope.tasks) == (Decimal("0.25"), a_scope().tasks)


def test_a_packet_is_written_as_it_always_was() -> None:
    assert canonical_json(a_packet()) == kept("packet-3")


def test_a_packet_of_format_3_is_read() -> None:
    packet = packet_from(PACKET.read(kept("packet-3")))
    day = packet["days"][0]
    assert (packet["issued_on"], day["date"]) == (date(2027, 2, 26), date(2027, 3, 1))
    assert (day["tasks"][0]["begins"], day["floors"][0]["rows"]) == ("8:15", [1, 18])
    assert packet["gates"][0]["held"]


def test_a_packet_of_format_2_keeps_access_loads_and_checks() -> None:
    packet = packet_from(PACKET.read(kept("packet-2")))
    assert packet["cover"]["access"] == "Key under the blue pot."
    assert packet["phases"][0]["loads"][0]["said"] == "6 cartons"
    day = packet["days"][0]
    assert day["checks"][-1] == {"text": "Blades covered, power off, dust swept", "source": ""}
    assert (day["arrives"], day["tasks"][0]["clock"], day["going_home"]) == ("", "", [])


def test_a_packet_of_format_2_is_read() -> None:
    packet = packet_from(PACKET.read(kept("packet-2")))
    assert packet == packet_from(PACKET.read(kept("packet-1")))


def test_a_packet_of_format_1_is_read() -> None:
    packet = packet_from(PACKET.read(kept("packet-1")))
    day = packet["days"][0]
    assert (packet["issued_on"], day["date"]) == (date(2027, 2, 26), date(2027, 3, 1))
    assert (day["hours"], day["tasks"][0]["hours"]) == (Decimal("12.00"), Decimal("12.00"))


def test_a_plan_of_format_1_is_read_and_written_as_it_always_was() -> None:
    plan, _ = plan_from(PLAN.read(kept("plan-1")))
    assert canonical_json(plan_to_json(plan)) == kept("plan-1")


def test_a_plan_of_format_1_stays_one_and_its_request_is_brought_up() -> None:
    assert plan_to_json(plan_from(PLAN.read(kept("plan-1")))[0])["format"] == 1
    assert request_from(REQUEST.read(kept("request-1")))[1]["format"] == REQUEST.newest


def test_a_request_of_format_1_is_read_with_all_its_fields() -> None:
    request, form = request_from(REQUEST.read(kept("request-1")))
    assert canonical_json(form | {"format": 1}) == kept("request-1")
    assert (request.spares, request.rules.min_row_width) == (3, 5)
