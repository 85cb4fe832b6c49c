"""Lengths as typed and as read, against published factors."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout.values.errors import InputError
from layout.values.units import (
    Length,
    Unit,
    format_area,
    format_length,
    inches_in,
    parse_length,
    unit_named,
)

SIXTEENTHS = st.integers(min_value=1, max_value=12_000 * 16).map(lambda n: Fraction(n, 16))


def inches(text: str) -> Fraction:
    return parse_length(text, bare=Unit.INCH).inches


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("12' 4 1/2\"", Fraction(297, 2)),
        ("12' 4 1/2", Fraction(297, 2)),
        ("12 4 1/2", Fraction(297, 2)),
        ("12-4 1/2", Fraction(297, 2)),
        ("12'-4 1/2\"", Fraction(297, 2)),
        ("12\u2032 4½\u2033", Fraction(297, 2)),
        ("12\u2019 4\u00a01\u20442\u201d", Fraction(297, 2)),
        ("12 ft 4.5 in", Fraction(297, 2)),
        ("148.5", Fraction(297, 2)),
        ("148 1/2 in.", Fraction(297, 2)),
        ("4 1/2", Fraction(9, 2)),
        ("½", Fraction(1, 2)),
        ("3/16", Fraction(3, 16)),
        ("12'", Fraction(144)),
        ("12.5 ft", Fraction(150)),
        ("254 mm", Fraction(10)),
        ("25.4 cm", Fraction(10)),
        ("0.254 m", Fraction(10)),
    ],
)
def test_a_length_is_read_as_a_tape_is_read(text: str, expected: Fraction) -> None:
    assert inches(text) == expected


@pytest.mark.parametrize(
    ("unit", "mm"), [(Unit.MILLIMETER, 37), (Unit.CENTIMETER, 370), (Unit.METER, 37_000)]
)
def test_a_bare_number_takes_the_unit_it_is_given(unit: Unit, mm: int) -> None:
    assert parse_length("37", bare=unit).mm == mm


@pytest.mark.parametrize(
    "text",
    [
        *("", "abc", "12' 14\"", "12' 30 cm", "3 m 5 in", "1/0", "5/1", "4 9/8", "1 2 3", "1e5"),
        *("inf", "nan", "3,76 m", "½ m", "12'' 4'", "٣", "4 1/100", "12 4 1/2 m", "--5", "1" * 41),
    ],
)
def test_what_no_tape_shows_is_refused_by_value_and_form(text: str) -> None:
    with pytest.raises(InputError, match="accepted: one system, such as 12' 4 1/2") as refused:
        parse_length(text, bare=Unit.INCH, field="Wall 3")
    assert (refused.value.field, refused.value.value) == ("Wall 3", text)


@pytest.mark.parametrize(
    ("text", "inches_read"), [("12' 11 63/64\"", Fraction(144 * 64 + 767, 64)), ("12' 12\"", None)]
)
def test_a_foot_has_twelve_inches_and_no_inches_beside_feet_make_one(
    text: str, inches_read: Fraction | None
) -> None:
    if inches_read is not None:
        assert inches(text) == inches_read
        return
    with pytest.raises(InputError, match="accepted: one system"):
        inches(text)


@pytest.mark.parametrize("text", ["0", "0' 0\"", "-5", "-12' 4\"", "1000' 1\"", "999999999999"])
def test_lengths_that_no_room_has_are_refused_with_the_range(text: str) -> None:
    with pytest.raises(InputError, match="more than 0, at most 1000 ft"):
        parse_length(text, bare=Unit.INCH)


def test_feet_and_inches_without_marks_are_no_metric_length() -> None:
    with pytest.raises(InputError, match="a bare number is mm"):
        parse_length("12 4 1/2", bare=Unit.MILLIMETER)


@given(SIXTEENTHS)
def test_what_is_written_is_read_back_unchanged(length: Fraction) -> None:
    assert inches(format_length(Length(length))) == length


@given(st.integers(min_value=1, max_value=300_000))
def test_whole_millimeters_are_written_and_read_back_unchanged(mm: int) -> None:
    length = Length.of(mm, Unit.MILLIMETER)
    assert parse_length(format_length(length, "metric"), bare=Unit.METER) == length


@given(SIXTEENTHS, st.sampled_from(list(Unit)))
def test_a_length_survives_every_unit_exactly(length: Fraction, unit: Unit) -> None:
    assert Length.of(Length(length).to(unit), unit).inches == length


def test_inch_and_foot_are_exact() -> None:
    # NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 yd = 0.9144 m exactly.
    assert Length(Fraction(1)).mm == Fraction(254, 10)
    assert Length(Fraction(12)).to(Unit.METER) == Fraction(3048, 10_000)
    assert Length(Fraction(36)).to(Unit.METER) == Fraction(9144, 10_000)


def test_areas_follow_from_the_exact_foot() -> None:
    # NIST SP 811 (2008), appendix B.8: 1 ft2 = 0.09290304 m2; 1 in2 = 645.16 mm2.
    foot, inch = Length(Fraction(12)), Length(Fraction(1))
    assert foot.to(Unit.METER) ** 2 == Fraction(9_290_304, 100_000_000)
    assert inch.mm**2 == Fraction(64_516, 100)
    assert float(1 / foot.to(Unit.METER) ** 2) == pytest.approx(10.763910417, abs=5e-10)


def test_a_square_foot_is_144_square_inches() -> None:
    # Bureau of Standards Circular 570, p. 18: 144 in2 = 1 ft2, 9 ft2 = 1 yd2.
    assert inches_in(Unit.FOOT) ** 2 == 144
    assert (3 * inches_in(Unit.FOOT)) ** 2 == 9 * 144


def test_the_foot_is_the_international_one() -> None:
    # Federal Register 85 FR 62698 (2020): the survey foot, 1200/3937 m, ended with 2022.
    survey = Fraction(1200, 3937)
    assert Length(Fraction(12)).to(Unit.METER) != survey
    # National Geodetic Survey: 304,800 m are 1,000,000 feet, and 999,998 survey feet.
    assert Length.of(304_800, Unit.METER).to(Unit.FOOT) == 1_000_000
    assert 304_800 / survey == 999_998


def test_the_two_feet_differ_by_a_thousandth_of_an_inch_over_forty_feet() -> None:
    # Computed: 40 ft x 2 parts in a million = 0.00096 in.
    apart = 40 * (Fraction(1200, 3937) - Fraction(3048, 10_000))
    assert float(apart / Fraction(254, 10_000)) == pytest.approx(0.00096, abs=1e-6)


@pytest.mark.parametrize("unit", list(Unit))
def test_the_units_are_those_of_the_library(unit: Unit) -> None:
    library: Any = pint.UnitRegistry(non_int_type=Fraction)
    assert inches_in(unit) == library.Quantity(Fraction(1), unit.value).to("inch").magnitude


def test_nothing_inside_is_a_float() -> None:
    # In floats pint makes one foot 0.30479999999999996 m; here it is exact.
    assert all(isinstance(inches_in(unit), Fraction) for unit in Unit)


@pytest.mark.parametrize(("denominator", "mm"), [(16, "1.5875"), (32, "0.79375"), (64, "0.396875")])
def test_the_fractions_of_a_tape_in_millimeters(denominator: int, mm: str) -> None:
    # From 1 in = 25.4 mm exactly.
    assert Length(Fraction(1, denominator)).mm == Fraction(mm)


def test_a_tape_reading_in_both_systems() -> None:
    # 11' 7-3/8" = 139.375 in = 3540.125 mm, by the exact inch.
    length = parse_length("11' 7-3/8\"", bare=Unit.INCH)
    assert (length.inches, length.mm) == (Fraction("139.375"), Fraction("3540.125"))


@pytest.mark.parametrize(
    ("length", "written"),
    [
        (Fraction(297, 2), "12' 4½\""),
        (Fraction(6, 16), '⅜"'),
        (Fraction(3, 16), '³\u2044₁₆"'),
        (Fraction(144), "12' 0\""),
        (Fraction(0), '0"'),
        (Fraction(-9, 2), '-4½"'),
        (Fraction(95, 8) + Fraction(1, 10), "1' 0\""),
        (Fraction(1, 32), '¹\u2044₁₆"'),
    ],
)
def test_lengths_are_written_to_the_sixteenth_in_lowest_terms(
    length: Fraction, written: str
) -> None:
    assert format_length(length) == written


@pytest.mark.parametrize(
    ("mm", "written"), [(3760, "3.76 m"), (3765, "3.765 m"), (192, "192 mm"), (3200, "3.20 m")]
)
def test_metric_lengths_are_written_to_the_millimeter(mm: int, written: str) -> None:
    assert format_length(Length.of(mm, Unit.MILLIMETER), "metric") == written


def test_areas_are_reported_whole() -> None:
    # ANSI Z765 (2003), sections 3 and 4: finished area to the nearest whole square foot.
    assert format_area(Fraction(162 * 144 + 60)) == "162 ft²"
    assert format_area(Fraction(162 * 144 + 72)) == "163 ft²"
    assert format_area(Fraction(162 * 144), "metric") == "15.1 m²"


def test_an_unknown_system_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="'cubits'; accepted: imperial or metric"):
        format_length(Fraction(1), "cubits")


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("12' 4 1/2\"", Unit.FOOT),
        ("12 4 1/2", Unit.FOOT),
        ("4 ft", Unit.FOOT),
        ("4 1/2", Unit.INCH),
        ("148.5 in", Unit.INCH),
        ("3.76 m", Unit.METER),
        ("376 cm", Unit.CENTIMETER),
        ("148.5", None),
        ("-3", None),
        ("twelve", None),
    ],
)
def test_the_unit_that_typed_text_names(text: str, unit: Unit | None) -> None:
    assert unit_named(text) is unit
