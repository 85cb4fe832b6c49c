"""Notched planks on paper: their figures make the piece again; no letter is under 9 pt."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest
from shapely.geometry import Polygon

from jobs.domain.products.joining_card import joining_card, lip_words, lower_words
from layout.values.laid_pieces import laid_pieces
from layout.values.material import Side
from tests.packet_shapes.pages import PlacedWord, shapes_pdf, words_of
from tests.packet_shapes.planned import floor_of, inches, room

_FIGURE = re.compile(r"[\d½¼¾⅛⅜⅝⅞⁰¹²³⁴-⁹₀-₉\u2044]+\"")
SIXTEENTH = 1 / 16


@cache
def words(name: str, size: str = "letter") -> list[PlacedWord]:
    """Return the words of a room's sheets of notched planks."""
    pdf = shapes_pdf("_print_notched.html", {"floor": floor_of(name)}, paper=size)
    return words_of(pdf)


def seen_outline(name: str, piece_id: str) -> Polygon:
    """Return a piece as its person sees it, its own near left corner at 0, 0."""
    plan_request, plan = room(name)
    piece = next(p for p in laid_pieces(plan) if p.piece.id == piece_id)
    x0, y0, x1, y1 = piece.shape.bounds
    turned = plan_request.lay.behind(piece.row) is Side.HIGH
    points = [
        (x1 - x, y1 - y) if turned else (x - x0, y - y0) for x, y in piece.shape.exterior.coords
    ]
    holes = [
        [(x1 - x, y1 - y) if turned else (x - x0, y - y0) for x, y in ring.coords]
        for ring in piece.shape.interiors
    ]
    return Polygon(points, holes)


def printed_figures(name: str) -> dict[str, list[tuple[float, str]]]:
    """Return the figures under each piece's name: (inches, from which end or edge), from the PDF.

    A figure's base stands to its right on the same line: 22 7/8" from left.
    """
    all_words = words(name)
    pieces = [w for w in all_words if re.fullmatch(r"\d+-\d+", w.text) and w.points > 13]
    figures_of: dict[str, list[tuple[float, str]]] = {w.text: [] for w in pieces}
    for figure in all_words:
        if not _FIGURE.fullmatch(figure.text) or figure.points < 13.9:
            continue
        level = (figure.top + figure.bottom) / 2
        beside = sorted(
            (w.left, w.text)
            for w in all_words
            if w.page == figure.page
            and abs((w.top + w.bottom) / 2 - level) < 2
            and 0 < w.left - figure.right < 22
        )
        if len(beside) >= 2 and beside[0][1] == "from" and beside[1][1] != "the":
            above = [w for w in pieces if (w.page, -w.bottom) < (figure.page, -figure.bottom)]
            owner = max(above, key=lambda w: (w.page, -w.bottom))
            figures_of[owner.text].append((inches(figure.text), beside[1][1]))
    return figures_of


@pytest.mark.parametrize("name", ["ell", "column", "register", "bay", "two_rooms", "cased"])
def test_the_printed_figures_place_every_corner_of_what_stays(name: str) -> None:
    printed = printed_figures(name)
    traced = {p["id"] for p in floor_of(name)["notched"]["pieces"] if p["traced"]}
    assert set(printed) == {p["id"] for p in floor_of(name)["notched"]["pieces"]}
    assert printed
    for piece_id in set(printed) - traced:
        outline = seen_outline(name, piece_id)
        _, _, long, wide = outline.bounds
        ends = {"left": (0.0, 1), "right": (long, -1), "near": (0.0, 1), "far": (wide, -1)}
        placed = [(base, ends[base][0] + ends[base][1] * f) for f, base in printed[piece_id]]
        along = [0.0, long] + [place for base, place in placed if base in ("left", "right")]
        across = [0.0, wide] + [place for base, place in placed if base in ("near", "far")]
        for ring in (outline.exterior, *outline.interiors):
            for x, y in ring.coords:
                assert min(abs(x - place) for place in along) <= SIXTEENTH, (piece_id, x)
                assert min(abs(y - place) for place in across) <= SIXTEENTH, (piece_id, y)


@pytest.mark.parametrize("name", ["ell", "column", "register", "bay"])
def test_no_figure_measures_what_is_cut_off_alone(name: str) -> None:
    # Under every figure lies something that stays, over its whole way.
    for piece_id, figures in printed_figures(name).items():
        outline = seen_outline(name, piece_id).buffer(SIXTEENTH)
        _, _, long, wide = seen_outline(name, piece_id).bounds
        for figure, base in figures:
            along = base in ("left", "right")
            end = {"left": 0.0, "near": 0.0, "right": long, "far": wide}[base]
            other = end + figure if base in ("left", "near") else end - figure
            steps = [k / 40 * (wide if along else long) for k in range(41)]
            tapes = [((end, s), (other, s)) if along else ((s, end), (s, other)) for s in steps]
            assert any(
                all(outline.covers(_spot(a, b, k / 20)) for k in range(1, 20)) for a, b in tapes
            ), (piece_id, figure, base)


def _spot(a: tuple[float, float], b: tuple[float, float], part: float) -> Any:
    from shapely.geometry import Point

    return Point(a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part)


@pytest.mark.parametrize("name", ["bay", "cased", "crooked"])
@pytest.mark.parametrize("size", ["letter", "a4"])
def test_no_letter_is_smaller_than_nine_points(name: str, size: str) -> None:
    assert min(word.points for word in words(name, size)) >= 8.99


def test_a_notch_of_half_an_inch_stands_there_at_true_size() -> None:
    # The post of this room reaches 1/2 in into row 12 from its far edge.
    pieces = {p["id"]: p for p in floor_of("column")["notched"]["pieces"]}
    for piece in pieces.values():
        assert len(piece["details"]) == 1
        paths = re.findall(r'class="cut" d="M([^"]+)"', piece["details"][0])
        levels = [float(pair.split()[1]) for path in paths for pair in path.split("L")]
        # 1/2 in is 12.7 mm of paper.
        assert any(abs(a - b - 12.7) < 0.01 for a in levels for b in levels)


def test_pieces_under_both_casings_say_whose_lip_and_the_order() -> None:
    ways = floor_of("cased")["notched"]["ways"]
    assert ways
    for way in ways:
        steps = " ".join(way["steps"])
        assert way["steps"][0] == "try it dry" or "ask the maker" in steps
    printed = " ".join(word.text for word in words("cased"))
    for way in ways:
        for name in way["pieces"]:
            assert name in printed


@pytest.mark.parametrize(
    ("tongue_near", "whose"),
    [
        (False, "of its own near edge"),  # its groove lies on the tongue of the row before
        (True, "of the far edge of row 6, which is down"),  # its tongue goes into that row's groove
    ],
)
@pytest.mark.parametrize("lock", ["angle-angle", "angle-drop"])
def test_the_lip_is_shaved_of_the_plank_that_has_the_groove(
    lock: str, tongue_near: bool, whose: str
) -> None:
    assert whose in lip_words(lock, tongue_near=tongue_near, row=7)


@pytest.mark.parametrize("lock", ["tap", "glue"])
def test_locks_that_go_in_flat_need_no_shaving(lock: str) -> None:
    assert lip_words(lock, tongue_near=True, row=7).startswith("no lip is shaved")


def test_a_plank_let_down_between_two_loses_its_tongue_and_its_lower_lip() -> None:
    assert "tongue (near edge)" in lower_words(tongue_near=True)
    assert "groove (far edge)" in lower_words(tongue_near=True)
    assert "tongue (far edge)" in lower_words(tongue_near=False)


@pytest.mark.parametrize(
    ("lock", "first", "last"),
    [
        ("angle-angle", "End first", "both up together"),
        ("angle-drop", "Long side in", "strike the end"),
        ("tap", "flat", "Tap the long side"),
        ("glue", "glue along the whole tongue", "Wipe"),
    ],
)
def test_each_lock_has_its_moves_in_order(lock: str, first: str, last: str) -> None:
    card = joining_card(lock, tongue_to_start=True, from_left=True, card=("Tilt 25° (sheet).",))
    steps = card["steps"]
    assert isinstance(steps, list)
    assert first in steps[0]
    assert last in steps[-1]
    assert card["tongue"] == "Tongue to the start wall. Rows begin at the left."
    assert "never the lip" in str(card["care"])
    assert card["maker"] == ["Tilt 25° (sheet)."]
    assert "common practice, no source" in str(card["source"])
