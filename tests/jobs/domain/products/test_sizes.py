"""Sizes and weights as they were typed: never rounded to a tape's sixteenths."""

from __future__ import annotations

from decimal import Decimal

import pytest

from jobs.domain.lengths import core_size_words, size_words
from jobs.domain.products.sizes import size_as_typed
from jobs.domain.products.weights import kilograms_typed, weight_as_typed, weight_words

MM = Decimal("25.4")


@pytest.mark.parametrize(
    ("text", "mm", "system", "words"),
    [
        ("7.05", 7.05, "imperial", "7.05 in"),
        ("7.05 in", 7.05, "imperial", "7.05 in"),
        ("48", 48, "imperial", '48"'),
        ("4' 0\"", 48, "imperial", "4' 0\""),
        ("7 1/16", 7.0625, "imperial", '7¹\u2044₁₆"'),
        ("179.07 mm", 7.05, "imperial", "179.07 mm"),
    ],
)
def test_a_size_reads_as_it_was_typed(text: str, mm: float, system: str, words: str) -> None:
    assert size_as_typed(text, Decimal(str(mm)) * MM, system).replace("\u00a0", " ") == words


def test_a_bare_number_of_a_metric_sheet_is_in_millimeters() -> None:
    assert size_as_typed("192", Decimal(192), "metric") == "192\u00a0mm"


@pytest.mark.parametrize("text", ["", "7", "<b>7.05</b>", "seven"])
def test_a_text_that_is_another_size_is_not_believed(text: str) -> None:
    assert size_as_typed(text, Decimal("7.05") * MM, "imperial") == "7.05\u00a0in"


@pytest.mark.parametrize(
    ("mm", "system", "words"),
    [
        (Decimal("7.05") * MM, "imperial", "7.05 in"),
        (Decimal("7.0625") * MM, "imperial", '7¹\u2044₁₆"'),
        (Decimal("1219.2"), "imperial", "4' 0\""),
        (Decimal("7.015625") * MM, "imperial", '7¹\u2044₆₄"'),
        (Decimal(192), "imperial", "192 mm"),
        (Decimal(192), "metric", "192 mm"),
        (Decimal("179.07"), "metric", "179.07 mm"),
        (Decimal(1285), "metric", "1.285 m"),
    ],
)
def test_a_size_without_its_text_is_never_rounded(mm: Decimal, system: str, words: str) -> None:
    assert size_words(mm, system).replace("\u00a0", " ") == words


def test_a_plan_names_a_width_as_its_carton_does() -> None:
    assert core_size_words(7.05, "in") == "7.05\u00a0in"


@pytest.mark.parametrize(
    ("text", "system", "kg"),
    [
        ("32", "imperial", "14.51"),  # 32 × 0.45359237 = 14.515, halves to the even digit: 14.51
        ("32 lb", "metric", "14.51"),
        ("14.5 kg", "imperial", "14.50"),
        ("14.5", "metric", "14.50"),
    ],
)
def test_a_weight_is_read_in_its_own_unit(text: str, system: str, kg: str) -> None:
    assert kilograms_typed(text, system) == Decimal(kg)


@pytest.mark.parametrize("text", ["0", "-1", "501", "heavy", "32 stone", "1e3", "14,5", "٣٢"])
def test_what_is_no_weight_of_a_carton_is_none(text: str) -> None:
    assert kilograms_typed(text, "imperial") is None


def test_a_weight_reads_as_it_was_typed() -> None:
    assert weight_as_typed("32", Decimal("14.51"), "imperial") == "32\u00a0lb"
    assert weight_as_typed("30", Decimal("14.51"), "imperial") == "32\u00a0lb"
    assert weight_words(Decimal("14.51"), "metric") == "14.5\u00a0kg"
