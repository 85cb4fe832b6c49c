"""The bridge as a drawing: every bar where the last one ended, legible without color."""

from __future__ import annotations

import re
from decimal import Decimal
from xml.etree import ElementTree

from estimates.domain.bridge import bars_of, bridge_svg
from tests.estimates.domain.review.test_review import reviewed

SVG = "{http://www.w3.org/2000/svg}"


def test_each_bar_begins_where_the_last_one_ended() -> None:
    ends = [(bar.start, bar.end) for bar in bars_of(reviewed(closed=True))]
    # 343.75 quoted; labor -150, material -83, overhead -23.30; 87.45 made.
    assert ends == [
        (0, Decimal("343.75")),
        (Decimal("343.75"), Decimal("193.75")),
        (Decimal("193.75"), Decimal("110.75")),
        (Decimal("110.75"), Decimal("87.45")),
        (0, Decimal("87.45")),
    ]


def test_every_bar_has_its_words_and_its_figure() -> None:
    drawing = ElementTree.fromstring(bridge_svg(reviewed(closed=True), "USD"))
    words = [text.text for text in drawing.iter(f"{SVG}text")]
    assert words[:4] == ["Quoted profit", "$343.75", "Labor against the quote", "-$150.00"]


def test_widths_are_to_scale() -> None:
    drawing = ElementTree.fromstring(bridge_svg(reviewed(closed=True), "USD"))
    widths = [float(box.attrib["width"]) for box in drawing.iter(f"{SVG}rect")][::2]
    # 150 of 343.75 on 474 units.
    assert widths[0] == 474.0
    assert abs(widths[1] - 474 * 150 / 343.75) < 0.2


def test_what_was_lost_is_hatched_and_nothing_is_told_by_color() -> None:
    drawing = bridge_svg(reviewed(closed=True), "USD")
    assert drawing.count('fill="url(#bridge-loss)"') == 3
    assert set(re.findall(r'(?:fill|stroke)="(#[0-9a-fA-F]+)"', drawing)) == {"#fff"}


def test_a_loss_stays_inside_the_drawing() -> None:
    lossy = reviewed(purchases=())
    drawing = ElementTree.fromstring(bridge_svg(lossy, "USD"))
    edges = [
        float(box.attrib["x"]) + float(box.attrib["width"]) for box in drawing.iter(f"{SVG}rect")
    ]
    assert min(float(box.attrib["x"]) for box in drawing.iter(f"{SVG}rect")) >= 0
    assert max(edges) <= 480
