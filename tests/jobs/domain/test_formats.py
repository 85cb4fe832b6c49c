"""A stored text of any format is read as the newest; what was never written is refused."""

from __future__ import annotations

import pytest

from jobs.domain.checks import BadValueError
from jobs.domain.formats import BrokenDocumentError, DocumentForm, Fields, adding


def halved(fields: Fields) -> Fields:
    """The third format counts pairs where the second counted singles."""
    return {key: value for key, value in fields.items() if key != "shoes"} | {
        "pairs": fields["shoes"] // 2
    }


FIRST = DocumentForm(kind="box", word="box")
THIRD = DocumentForm(kind="box", word="box", upgrades=(adding("shoes", 2), halved))


def test_a_text_without_a_format_is_of_the_first() -> None:
    assert FIRST.read('{"kind":"box","lid":true}') == {"lid": True}


def test_the_first_format_is_led_through_every_upgrade() -> None:
    assert THIRD.read('{"format":1,"kind":"box"}') == {"pairs": 1}


def test_a_later_format_skips_the_upgrades_before_it() -> None:
    assert THIRD.read('{"format":2,"kind":"box","shoes":8}') == {"pairs": 4}


def test_the_newest_format_is_read_as_it_is() -> None:
    assert THIRD.read('{"format":3,"kind":"box","pairs":5}') == {"pairs": 5}


def test_the_newest_format_is_written() -> None:
    assert THIRD.head == {"format": 3, "kind": "box"}


def test_a_form_without_a_word_says_no_kind() -> None:
    assert DocumentForm(kind="plan").head == {"format": 1}


def test_a_key_more_is_added_to_every_entry_of_a_list() -> None:
    upgrade = adding("lace", "red", each="shoes")
    assert upgrade({"shoes": [{"size": 8}]}) == {"shoes": [{"size": 8, "lace": "red"}]}


def test_an_upgrade_leaves_what_it_was_given_alone() -> None:
    fields: Fields = {"shoes": [{"size": 8}]}
    adding("lace", "red", each="shoes")(fields)
    assert fields == {"shoes": [{"size": 8}]}


@pytest.mark.parametrize("number", ["0", "4", "-1", '"1"', "1.0", "true", "null"])
def test_a_format_that_was_never_written_is_refused(number: str) -> None:
    with pytest.raises(BadValueError, match=r"box.format is .*; accepted: 1 to 3\."):
        THIRD.read(f'{{"format":{number},"kind":"box"}}')


def test_a_format_that_is_not_the_one_stated_beside_it_is_refused() -> None:
    with pytest.raises(BadValueError, match=r"box.format is 2; accepted: 1, as its text says"):
        FIRST.read('{"format":1,"kind":"box"}', stated=2)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", r"box is .*; accepted: a JSON document"),
        ("[]", r"box is 'list'; accepted: a JSON mapping"),
        ('{"format":1}', r"box.kind is missing; accepted: box"),
        ('{"format":1,"kind":"bag"}', r"box.kind is 'bag'; accepted: box"),
    ],
)
def test_a_text_of_another_kind_is_refused(text: str, said: str) -> None:
    with pytest.raises(BadValueError, match=said):
        FIRST.read(text)


def test_a_broken_document_says_what_it_is_and_where() -> None:
    error = BrokenDocumentError(kind="change-order", name="document 4", reason="It is torn.")
    assert str(error) == "The stored change order (document 4) can't be read: It is torn."
