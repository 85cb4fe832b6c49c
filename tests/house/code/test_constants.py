"""Each conversion and each tolerance has one home; whoever needs it takes it from there."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from math import isfinite
from pathlib import Path

import pytest

from tests.conftest import ROOT
from tests.house.test_docs import tracked

UNITS, TOLERANCES = "layout/values/units.py", "layout/values/tolerances.py"
# Inch and foot in millimeters, centimeters and meters, and their squares (NIST SP 811, 2008).
CONVERSIONS = frozenset(
    map(Fraction, ("25.4", "2.54", "0.0254", "304.8", "30.48", "0.3048", "645.16", "0.09290304"))
)
NUMBER = re.compile(r"(?<![\w.])\d*\.\d+(?![\w.])")
A_HUNDREDTH = 0.01


def sources() -> list[str]:
    """Return the Python files of the tree, modules of tests aside: these hold check values."""
    return [name for name in tracked("*.py") if not Path(name).name.startswith("test_")]


def conversions(tree: ast.AST) -> Iterator[int]:
    """Yield the lines on which a conversion is written out: as number, in a call or in a text."""
    docstrings = set(map(id, docstrings_of(tree)))
    for node in ast.walk(tree):
        if id(node) not in docstrings and not CONVERSIONS.isdisjoint(written(node)):
            yield getattr(node, "lineno", 0)


def written(node: ast.AST) -> Iterator[Fraction]:
    """Yield the numbers that a node writes out."""
    match node:
        case ast.Call(
            func=ast.Name(id="Fraction"),
            args=[ast.Constant(value=int(above)), ast.Constant(value=int(below))],
        ) if below:
            yield Fraction(above, below)
        case ast.Constant(value=float(number)) if isfinite(number):
            yield Fraction(repr(number))
        case ast.Constant(value=str(text)):
            yield from map(Fraction, NUMBER.findall(text))


def small_numbers(tree: ast.AST) -> Iterator[int]:
    """Yield the lines with a number between nothing and a hundredth: a tolerance without a name."""
    for node in ast.walk(tree):
        match node:
            case ast.Constant(value=float(number)) if 0 < number < A_HUNDREDTH:
                yield node.lineno


def docstrings_of(tree: ast.AST) -> Iterator[ast.AST]:
    """Yield the nodes of docstrings."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef) and node.body:
            first = node.body[0]
            if isinstance(first, ast.Expr):
                yield first.value


def homes(
    lines_of: Callable[[ast.AST], Iterator[int]], names: Iterable[str]
) -> dict[str, list[int]]:
    """Return those of some files in which something is written, with its lines, each line once."""
    every = {name: sorted(set(lines_of(ast.parse((ROOT / name).read_text())))) for name in names}
    return {name: lines for name, lines in every.items() if lines}


def test_an_inch_is_25_4_millimeters_in_one_place() -> None:
    places = homes(conversions, sources())
    assert {name: len(lines) for name, lines in places.items()} == {UNITS: 1}


def test_tolerances_have_one_home() -> None:
    code = [name for name in sources() if not name.startswith("tests/")]
    assert list(homes(small_numbers, code)) == [TOLERANCES]


@pytest.mark.parametrize(
    "text",
    [
        "MM = 25.4",
        'MM = Decimal("25.4")',
        "MM = Fraction(254, 10)",
        "MM = Fraction(127, 5)",
        "M = MOST * 0.3048",
        'AREA = {"mm": Decimal("645.16")}',
        'unit = "inch = 0.0254 * meter"',
    ],
)
def test_a_second_conversion_would_be_seen(text: str) -> None:
    assert list(conversions(ast.parse(text))) == [1]


@pytest.mark.parametrize("text", ["MM = 254.0", 'CENT = Decimal("0.01")', '"""1 in = 25.4 mm."""'])
def test_other_numbers_and_docstrings_are_no_conversion(text: str) -> None:
    assert list(conversions(ast.parse(text))) == []


def test_a_second_tolerance_would_be_seen() -> None:
    assert list(small_numbers(ast.parse("near = left < right - 1e-6"))) == [1]
