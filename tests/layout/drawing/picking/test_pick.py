"""The picture in which a homeowner picks a plank: a link on each, what comes out told apart."""

from __future__ import annotations

from xml.etree import ElementTree

from layout.drawing.homeowner import ShownRoom
from layout.drawing.picking.pick import draw_to_pick
from tests.layout import three_rows

SVG = "{http://www.w3.org/2000/svg}"
ROOM = ((0.0, 0.0), (100.5, 0.0), (100.5, 21.5), (0.0, 21.5))


def drawn(**picked: object) -> ElementTree.Element:
    plan = three_rows.plan()
    addresses = {piece.id: f"?floor=1&piece={piece.id}" for piece in plan.pieces}
    room = ShownRoom(name="Den", ring=ROOM)
    svg = draw_to_pick(
        three_rows.request(),
        plan,
        [room],
        title="Den",
        ident="den",
        addresses=addresses,
        **picked,  # type: ignore[arg-type]
    )
    return ElementTree.fromstring(svg)


def test_every_plank_leads_to_its_address() -> None:
    links = {link.get("href"): link.get("aria-label") for link in drawn().iter(f"{SVG}a")}
    assert len(links) == 9
    assert links["?floor=1&piece=2-3"] == "Row 2, plank 3"


def test_what_is_picked_and_what_comes_out_are_told_apart() -> None:
    names = {part.get("class") for part in drawn().iter()}
    assert names & {"picked", "lifted"} == set()
    parts = {part.get("class"): part for part in drawn(picked="2-3", lifted=["3-1"]).iter()}
    assert parts["picked"].get("fill") == "currentColor"
    assert parts["lifted"].get("fill") == "url(#den-lifted)"


def test_it_is_no_image_since_there_are_links_in_it() -> None:
    assert drawn().get("role") == "group"
