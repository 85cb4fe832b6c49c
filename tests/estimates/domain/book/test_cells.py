"""Cells of a sheet: encodings, quotes, formulas, numbers and days as people write them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimates.domain.book.cells import (
    bare,
    day_in,
    decoded,
    guarded,
    number_in,
    one_line,
    records,
    written,
    yes_in,
)
from jobs.domain.checks import BadValueError

FORMULAS = ("=1+2", "+1", "-1", "@SUM(A1)", "'=1+2", "''-x", "\uff1d1")


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_utf_8_is_read_with_its_mark_and_without(mark: bytes) -> None:
    assert decoded(mark + "Eiche, 7½ in".encode()) == "Eiche, 7½ in"


@pytest.mark.parametrize(
    ("content", "value"),
    [
        (b"", "empty"),
        (b" \r\n", "empty"),
        (b"price\r\n7\xbd in", r"in another encoding \(byte 0xbd in line 2\)"),
        ("price".encode("utf-16"), "in UTF-16"),
        (b"PK\x03\x04 and more", "a workbook"),
        (b"price\x00", "no text"),
        (b"x" * 2_000_001, "2.0 MB large"),
    ],
)
def test_another_file_is_refused_in_words(content: bytes, value: str) -> None:
    with pytest.raises(BadValueError, match=f"file is '{value}'; accepted: a CSV file in UTF-8"):
        decoded(content)


def test_a_quoted_cell_holds_commas_quotes_and_line_ends() -> None:
    assert list(records('a,"b, ""c""\r\nd"\r\ne,f\r\n'))[:2] == [["a", 'b, "c" d'], ["e", "f"]]


def test_an_open_quote_is_refused_with_its_line() -> None:
    with pytest.raises(BadValueError, match="in line 3"):
        list(records('a,b\n"c,d\n'))


@pytest.mark.parametrize("text", FORMULAS)
def test_what_a_program_could_carry_out_is_written_with_an_apostrophe(text: str) -> None:
    assert guarded(text) == f"'{text}"
    assert bare(guarded(text)) == text


@pytest.mark.parametrize("text", ["'til", "Oak 7 x 48", "", "7-in plank", "a=b"])
def test_any_other_text_is_written_as_it_is(text: str) -> None:
    assert guarded(text) == text == bare(text)


def test_a_tab_before_a_formula_becomes_a_blank_and_goes() -> None:
    assert bare("\t=1+2") == "=1+2"
    assert one_line("Oak\t7\r\nx 48 ") == "Oak 7 x 48"


@given(st.lists(st.lists(st.text(max_size=12), min_size=2, max_size=4), min_size=1, max_size=4))
def test_every_text_is_read_back_as_it_was_written(rows: list[list[str]]) -> None:
    clean = [[one_line(cell) for cell in row] for row in rows]
    back = [record for record in records(written(clean)) if record]
    assert back == clean


@pytest.mark.parametrize(
    ("text", "number"),
    [("61.50", "61.5"), ("$61.50", "61.5"), ("1,061.5", "1061.5"), (" 0.0095 ", "0.0095")],
)
def test_a_number_is_read_as_it_is_written(text: str, number: str) -> None:
    assert number_in(text, places=4) == Decimal(number)


@pytest.mark.parametrize(
    "text",
    ["", "-5", "=1+2", "61,50", "1e5", "NaN", "1,06", "0.00951", "12345678901", "\u0666\u0661"],
)
def test_what_is_no_number_is_refused_with_what_was_typed(text: str) -> None:
    with pytest.raises(BadValueError, match=r"accepted: a number such as 61\.50"):
        number_in(text, places=4)


@pytest.mark.parametrize("text", ["2026-03-02", "3/2/2026", "03/02/2026"])
def test_a_day_is_read_in_both_forms(text: str) -> None:
    assert day_in(text) == date(2026, 3, 2)


@pytest.mark.parametrize("text", ["2026-02-30", "13/1/2026", "20260302", "soon", "3/2/26"])
def test_what_is_no_day_is_refused(text: str) -> None:
    with pytest.raises(BadValueError, match="with the month first"):
        day_in(text)


def test_yes_and_no_are_read_in_any_case() -> None:
    assert yes_in("YES")
    assert not yes_in("n")
    with pytest.raises(BadValueError, match="accepted: yes or no"):
        yes_in("maybe")
