"""A scope is one text for one content, read back without loss, and compared in words."""

import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.domain.checks import BadValueError
from jobs.domain.documents import canonical_json, digest, restore
from jobs.domain.quantities import CATALOG, Quantity, quantity
from jobs.domain.scope.changed.changes import scope_changes
from jobs.domain.scope.hours import SiteWork, work_from
from jobs.domain.scope.inputs import JobTake
from jobs.domain.scope.rates import STARTING_RATES
from jobs.domain.scope.scope import (
    SCOPE,
    FrozenScope,
    ScopeZone,
    make_scope,
    scope_document,
    scope_from,
    scope_text,
)
from jobs.domain.scope.takeoff import take_off
from jobs.domain.tasks import Task
from tests.jobs.floors import a_job

PLAN = digest("a plan")


def a_scope(job: JobTake | None = None, **changes: Any) -> FrozenScope:
    work = work_from(take_off(job or a_job()), STARTING_RATES, SiteWork())
    zone = ScopeZone(name="upstairs", rows=18, area_ft2=Decimal("120.00"), plan_sha256=PLAN)
    return make_scope([replace(zone, **changes)], work)


def read_scope(text: str) -> FrozenScope:
    return scope_from(SCOPE.read(text))


def test_the_digest_is_sha_256_of_the_text() -> None:
    # FIPS 180-4, SHA-256 example of the three letters abc.
    expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

    assert digest("abc") == expected


def test_canonical_text_has_sorted_keys_no_blanks_and_every_letter_itself() -> None:
    value = {"b": [1, True, None], "a": Decimal("1.50"), "ü": "12' 6 1/2\" × 3"}

    assert canonical_json(value) == (r"""{"a":"1.50","b":[1,true,null],"ü":"12' 6 1/2\" × 3"}""")


@pytest.mark.parametrize(
    ("number", "text"), [("1E+3", '"1000"'), ("-0.0", '"0.0"'), ("0.10", '"0.10"')]
)
def test_a_decimal_is_written_without_exponent_or_sign_of_nought(number: str, text: str) -> None:
    assert canonical_json(Decimal(number)) == text


def test_dates_are_written_as_iso() -> None:
    assert canonical_json({"start": date(2026, 3, 2)}) == '{"start":"2026-03-02"}'


@pytest.mark.parametrize(
    ("value", "place"),
    [
        ({"a": [0.5, float("nan")]}, r"document.a\[1\] is nan"),
        ({"a": Decimal("Infinity")}, r"document is Infinity"),
        ({1: "one"}, r"document is 1; accepted: keys that are text"),
        ({"a": {1, 2}}, r"document.a is 'set'"),
        ("\ud800", r"half a character"),
    ],
)
def test_what_has_no_one_text_is_refused(value: object, place: str) -> None:
    with pytest.raises(BadValueError, match=place):
        canonical_json(value)


plain_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(st.characters(codec="utf-8")),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner),
    max_leaves=8,
)


@given(plain_values)
def test_canonical_text_reads_back_as_what_was_written(value: object) -> None:
    assert json.loads(canonical_json(value)) == value


@given(st.dictionaries(st.text(st.characters(codec="utf-8")), st.integers()))
def test_the_order_of_keys_changes_nothing(value: dict[str, int]) -> None:
    turned = dict(reversed(value.items()))

    assert canonical_json(turned) == canonical_json(value)


words = st.text(st.characters(codec="utf-8"), min_size=1, max_size=8).filter(str.strip)
hundredths = st.integers(0, 10**6).map(lambda number: Decimal(number) / 100)


@st.composite
def scopes(draw: st.DrawFn) -> FrozenScope:
    names = draw(st.lists(words, min_size=1, max_size=3, unique=True))
    zones = tuple(
        ScopeZone(
            name=name,
            rows=draw(st.integers(1, 400)),
            area_ft2=draw(hundredths) + 1,
            plan_sha256=digest(name),
            product=draw(st.just("") | words),
        )
        for name in names
    )
    laying = tuple(
        Task(
            code="lay",
            zone=zone.name,
            label=draw(words),
            hours=draw(hundredths).quantize(Decimal("0.01")),
            basis=draw(words),
            after=("setup",),
            wait_hours_after=draw(hundredths),
            rows=(1, zone.rows),
            helper=draw(st.booleans()),
            hold_points=tuple(draw(st.lists(words, max_size=2))),
        )
        for zone in zones
    )
    setup = Task(code="setup", label="Set up", hours=Decimal("1.50"), basis="one job")
    return FrozenScope(zones=zones, quantities=draw(counted(names)), tasks=(setup, *laying))


def counted(names: list[str]) -> st.SearchStrategy[tuple[Quantity, ...]]:
    one = st.builds(
        quantity,
        st.sampled_from(sorted(CATALOG)),
        st.integers(0, 10**6),
        words,
        zone=st.sampled_from(names),
        item=st.just("") | words,
    )
    return st.lists(one, max_size=5, unique_by=lambda entry: entry.key).map(tuple)


@given(scopes())
def test_a_scope_read_back_is_the_scope_that_was_written(scope: FrozenScope) -> None:
    text = scope_text(scope)

    again = read_scope(text)
    assert again == scope
    assert scope_text(again) == text


@given(scopes())
def test_a_scope_differs_in_nothing_from_itself(scope: FrozenScope) -> None:
    assert scope_changes(scope, scope) == ()


def test_the_document_carries_format_and_total_hours() -> None:
    document = scope_document(a_scope())

    assert (document["format"], document["kind"]) == (5, "scope")
    assert document["hours"] == sum(Decimal(task["hours"]) for task in document["tasks"])


def test_a_total_that_is_not_the_sum_of_the_tasks_is_refused() -> None:
    forged = scope_text(a_scope()).replace('"hours":"4.35"', '"hours":"4.30"')

    with pytest.raises(BadValueError, match=r"scope.hours is '.*'; accepted: .*, the sum of its"):
        read_scope(forged)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", r"scope is .*; accepted: a JSON document"),
        ("[" * 100_000, r"scope is .*; accepted: a JSON document"),
        ("[]", r"scope is 'list'"),
        ('{"format":6,"kind":"scope"}', r"scope.format is 6; accepted: 1 to 5"),
        ('{"format":1,"kind":"quote"}', r"scope.kind is 'quote'; accepted: scope"),
        ('{"format":1,"kind":"scope","zones":[]}', r"scope.quantities is missing"),
        ('{"format":2,"kind":"scope","floors":[]}', r"scope.floors is 'unknown'; accepted: one of"),
    ],
)
def test_a_text_that_is_no_scope_is_refused_by_its_place(text: str, said: str) -> None:
    with pytest.raises(BadValueError, match=said):
        read_scope(text)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"rows":[1,18]', '"rows":[1]', r"scope.*rows is \[1\]; accepted: a list of 2"),
        ('"hours":"4.35"', '"hours":4.35', r"hours is 4.35; accepted: a decimal number written"),
        ('"hours":"4.35"', '"hours":"four"', r"hours is 'four'"),
        ('"hours":"4.35"', '"hours":"NaN"', r"hours is 'NaN'"),
        ('"helper":false', '"helper":0', r"helper is 0; accepted: a value of kind bool"),
        ('"kind":"work"', '"kind":"play"', r"kind is 'play'; accepted: one of material, work"),
        ('"zones":[{', '"zones":[7,{', r"scope.zones\[0\] is 7; accepted: a mapping"),
        ('"after":["setup"]', '"after":"setup"', r"after is 'setup'; accepted: a list"),
    ],
)
def test_a_spoiled_field_is_named(old: str, new: str, said: str) -> None:
    text = scope_text(a_scope())
    assert old in text

    with pytest.raises(BadValueError, match=said):
        read_scope(text.replace(old, new, 1))


def test_a_scope_whose_rows_are_not_the_plans_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"task lay:upstairs.rows is '1 to 18'; .* 1 to 17"):
        a_scope(rows=17)


def test_a_task_after_an_unknown_task_is_refused() -> None:
    task = Task(code="lay", label="Lay", hours=Decimal(1), basis="x", after=("dance",))

    with pytest.raises(BadValueError, match=r"task lay.after is 'dance'; accepted: a task of this"):
        FrozenScope(zones=(), quantities=(), tasks=(task,))


def test_a_digest_that_is_none_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"zone upstairs.plan_sha256 is 'abc'"):
        a_scope(plan_sha256="abc")


def test_restoring_something_else_than_a_mapping_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"document is 3; accepted: a mapping"):
        restore(ScopeZone, 3)


def test_a_task_is_found_by_its_key() -> None:
    assert a_scope().task("lay:upstairs").hours == Decimal("4.35")
    with pytest.raises(BadValueError, match=r"task is 'lay:attic'; accepted: one of pick_up"):
        a_scope().task("lay:attic")
