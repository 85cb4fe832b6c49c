"""Marks on ends, edges and corners: none on what an earlier cut found on site."""

from __future__ import annotations

from tests.layout.cutsheet.test_words import crosscut, cut, sentence

ON_SITE = crosscut("right end", 40, "left", limits=(39.5, 40.5))


def test_on_an_end_found_on_site_no_mark_is_set() -> None:
    # The left end at 8 may come out elsewhere: its marks are told by both distances.
    corner = cut("notch", "right end", 35, (13, 7), (11, 4), (8, 3), n=2)
    assert sentence(ON_SITE, corner) == (
        'Mark 35" from the right end on the far edge, 37" from the right end by 4" from the near '
        'edge and 40" from the right end by 3" from the near edge; cut from mark to mark; the far '
        "left corner goes."
    )


def test_a_corner_at_an_end_found_on_site_is_told_by_its_distance() -> None:
    slant = cut("angle", "right end", 35, (8, 0), (13, 7), goes="left", n=2)
    assert sentence(ON_SITE, slant).startswith(
        'Mark 40" from the right end on the near edge and 35" from the right end on the far edge;'
    )


def test_on_an_edge_found_on_site_no_mark_is_set() -> None:
    rip = cut("rip", "low side", 5, (0, 5), (48, 5), goes="high", limits=(4.5, 5.5))
    slant = cut("angle", "left end", 26, (26, 0), (30, 5), goes="right", n=2)
    assert sentence(rip, slant).startswith(
        'Mark 26" from the left end on the near edge and 30" from the left end by 5" from the '
        "near edge;"
    )


def test_an_end_sawn_as_drawn_still_takes_marks() -> None:
    corner = cut("notch", "right end", 35, (13, 7), (11, 4), (8, 3), n=2)
    text = sentence(crosscut("right end", 40, "left"), corner)
    assert 'and 3" from the near edge on the left end; cut from mark to mark' in text
