"""Stored keys: declared apart from the names of fields, one for each."""

from __future__ import annotations

from dataclasses import dataclass, make_dataclass

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.documents import plain, restore, stored


@stored("name", row_count="rows")
@dataclass(frozen=True, kw_only=True, slots=True)
class Strip:
    """A value whose second field was called ``rows`` when the first of it was stored."""

    name: str
    row_count: int


def test_a_field_that_is_renamed_keeps_its_key() -> None:
    assert plain(Strip(name="Den", row_count=18)) == {"name": "Den", "rows": 18}


def test_a_field_that_is_renamed_is_read_under_its_key() -> None:
    assert restore(Strip, {"name": "Den", "rows": 18}) == Strip(name="Den", row_count=18)


def test_the_name_of_a_field_is_no_key() -> None:
    with pytest.raises(BadValueError, match=r"strip.row_count is 'unknown'; .* one of name, rows"):
        restore(Strip, {"name": "Den", "row_count": 18}, "strip")


def test_what_is_missing_is_named_by_its_key() -> None:
    with pytest.raises(BadValueError, match=r"strip.rows is missing; accepted: a value"):
        restore(Strip, {"name": "Den"}, "strip")


@pytest.mark.parametrize(
    ("same", "renamed"),
    [(("name",), {}), (("name rows wide",), {}), (("name",), {"rows": "name"})],
    ids=["one has none", "one too many", "one key twice"],
)
def test_every_field_needs_a_key_of_its_own(same: tuple[str, ...], renamed: dict[str, str]) -> None:
    bare = make_dataclass("Bare", ["name", "rows"])
    with pytest.raises(BadValueError, match=r"stored keys of Bare .* for each of name, rows"):
        stored(*same, **renamed)(bare)


def test_a_dataclass_without_declared_keys_is_not_stored() -> None:
    bare = make_dataclass("Bare", ["name"])
    with pytest.raises(BadValueError, match=r"'Bare'; accepted: a dataclass whose keys are"):
        plain(bare(name="Den"))
