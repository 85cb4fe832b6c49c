"""The price book as a sheet: what is read, what is refused where, what comes back the same."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from estimates.domain.book.rows import BookRow
from estimates.domain.book.sheet import MOST_ROWS, SheetFault, read_sheet, write_sheet
from tests.estimates.a_price import Given

TODAY = date(2026, 3, 2)


def a_row(**changes: object) -> BookRow:
    """A carton by the square foot, from a supplier, under a code of ours."""
    given: Given = {
        "code": "cartons",
        "item": "Oak 7 x 48",
        "label": "Flooring",
        "amount": Decimal("2.62"),
        "per": "measure",
        "pack": "carton",
        "covers": Decimal("23.3"),
        "effective_from": date(2026, 1, 5),
        "last_seen": date(2026, 2, 1),
        "supplier": "Example Supply",
        "our_code": "OAK-7",
        "tax_class": "materials",
    }
    return BookRow(**given | changes)


def faults(text: str) -> list[tuple[int, str]]:
    """Where a sheet is refused: rows and columns."""
    return [(fault.row, fault.column) for fault in read_sheet(text, today=TODAY).faults]


def only_fault(text: str) -> SheetFault:
    """The one fault of a sheet."""
    (fault,) = read_sheet(text, today=TODAY).faults
    return fault


def test_two_columns_make_a_price() -> None:
    sheet = read_sheet("material,price\nPad,45\nbase_nails,$0.0095\n", today=TODAY)
    pad, nails = sheet.rows
    assert (pad.code, pad.pack, pad.per, pad.amount) == ("pad", "roll", "pack", Decimal(45))
    assert (nails.pack, nails.per, nails.price.unit_cost) == ("", "measure", Decimal("0.0095"))
    assert {pad.effective_from, pad.last_seen} == {TODAY}


def test_a_price_by_the_square_foot_is_read_with_its_coverage() -> None:
    text = "material,item,price,per,covers\ncartons,Oak,2.62,sq ft,23.3\n"
    assert read_sheet(text, today=TODAY).rows[0].price.by_pack == Decimal("61.046")


def test_a_book_is_read_back_as_it_was_written() -> None:
    rows = (
        a_row(),
        a_row(item="=cmd()", supplier='A "quoted", <b>name</b>', label="-Oak"),
        a_row(code="pad", item="", pack="roll", per="pack", covers=None, special_order=True),
        a_row(code="base_nails", item="'@x", pack="box", covers=Decimal(5000), per="pack"),
        a_row(code="primer", item="", pack="", covers=None, taxable=False, returnable=False),
        a_row(effective_from=date(2025, 1, 1), amount=Decimal("2.4999")),
    )
    assert read_sheet(write_sheet(rows), today=TODAY).rows == rows


def test_no_cell_of_a_written_sheet_begins_as_a_formula_does() -> None:
    text = write_sheet((a_row(item="=cmd()", supplier="+1", our_code="@x", tax_class="-y"),))
    cells = text.splitlines()[1].split(",")
    assert not [cell for cell in cells if cell[:1] in "=+-@"]


def test_every_fault_is_named_by_row_and_column() -> None:
    text = "material,price,per,from,taxable\npad,x,,,\nplanks,1,,,\npad,1,ton,soon,maybe\n"
    assert faults(text) == [
        (2, "price"),
        (3, "material"),
        (4, "per"),
        (4, "from"),
        (4, "taxable"),
    ]


def test_one_fault_keeps_every_row_out() -> None:
    assert read_sheet("material,price\npad,45\npad,-1\n", today=TODAY).rows == ()


def test_a_fault_names_the_value_and_what_is_accepted() -> None:
    assert only_fault("material,price\npad,=1+2\n").text == (
        "“=1+2” can't be used; accepted: a number such as 61.50, with up to 4 decimal places."
    )


def test_a_coverage_of_nothing_is_refused_at_its_column() -> None:
    text = "material,price,per,covers\ncartons,2.62,ft2,0\n"
    assert (only_fault(text).row, only_fault(text).column) == (2, "covers")


def test_a_missing_coverage_is_refused_at_its_column() -> None:
    assert faults("material,price,per\ncartons,2.62,ft2\n") == [(2, "covers")]


def test_the_same_thing_from_the_same_day_stands_once() -> None:
    fault = only_fault("material,price\npad,45\ncaulk,4\npad,46\n")
    assert (fault.row, fault.column) == (4, "item")
    assert "stands in row 2" in fault.text


def test_an_unknown_column_and_a_missing_one_are_named() -> None:
    assert faults("material,colour\npad,red\n") == [(1, "colour"), (1, "price")]


@pytest.mark.parametrize("text", ["material;price\npad;45\n", "material\tprice\npad\t45\n"])
def test_columns_must_stand_between_commas(text: str) -> None:
    assert faults(text)[0][0] == 1


def test_a_cell_behind_the_last_column_is_refused() -> None:
    assert "3 cells; accepted: the head's 2" in only_fault("material,price\npad,1,061.50\n").text


def test_more_rows_than_are_accepted_are_refused_before_they_are_read() -> None:
    text = "material,price\n" + "x,y\n" * (MOST_ROWS + 1)
    assert only_fault(text).text == "5,001 rows; accepted: up to 5,000."


def test_a_sheet_without_a_row_is_refused() -> None:
    assert "no row below its head" in only_fault("material,price\n\n,\n").text


def test_blank_lines_are_left_out_and_counted() -> None:
    assert faults("material,price\n\npad,x\n") == [(3, "price")]


@pytest.mark.parametrize(("column", "longest"), [("item", 120), ("our code", 40)])
def test_a_text_that_is_too_long_is_refused_at_its_column(column: str, longest: int) -> None:
    fault = only_fault(f"material,price,{column}\npad,45,{'x' * (longest + 1)}\n")
    assert (fault.column, f"up to {longest} characters" in fault.text) == (column, True)
