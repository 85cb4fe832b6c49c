"""The saw of the sweeps itself: a right sheet passes, and every way to spoil one is caught."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy

import pytest

from tests.sweeps.a_sheet import Json, a_plan, a_request, a_sheet
from tests.sweeps.sawing import FIGURES, WORDS, MakeReader, sheet_faults

WAYS = {"figures": FIGURES, "words": WORDS}
Spoil = Callable[[Json], None]


def spoiled(spoil: Spoil, way: MakeReader = FIGURES) -> str:
    """Return the faults of the hand-written papers once they are spoiled."""
    papers = {"request": a_request(), "plan": a_plan(), "sheet": a_sheet()}
    spoil(papers)
    return "\n".join(sheet_faults(**deepcopy(papers), reader=way))


def cuts(papers: Json, plank: int = 1) -> list[Json]:
    """Return the cuts of a plank of the papers."""
    of_plank: list[Json] = papers["sheet"]["planks"][plank - 1]["cuts"]
    return of_plank


def change(papers: Json, number: int, plank: int = 1, **values: object) -> None:
    """Change what one cut says."""
    cuts(papers, plank)[number - 1].update(values)


@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS)
def test_a_right_sheet_has_no_fault(way: MakeReader) -> None:
    assert spoiled(lambda papers: None, way) == ""


def wrong_order(papers: Json) -> None:
    # 5-1 is crosscut before it is ripped off 3-1: the cut goes through 3-1 as well.
    first, second, rip, notch, last = cuts(papers)
    last["then"] = {"in_hand": "3-1", "aside": ["5-1"], "stack": "B", "waste": False}
    cuts(papers)[:] = [first, second, last, rip, notch]
    for n, cut in enumerate(cuts(papers), start=1):
        cut["n"] = n


def kerf_too_wide(papers: Json) -> None:
    papers["request"]["rules"]["rip_kerf"] = 0.25


def missing_cut(papers: Json) -> None:
    del cuts(papers)[4]


def moved_cut(papers: Json) -> None:
    change(papers, 5, at=18.125, path=[[29.875, 0], [29.875, 2.375]])
    text = cuts(papers)[4]["text"]
    change(papers, 5, text=text.replace('18"', '18⅛"'))


def wrong_end(papers: Json) -> None:
    change(papers, 2, measure_from="left end", path=[[24, 0], [24, 7]])
    change(papers, 2, text='Cut square 24" from the left end; the left part goes: waste.')


def wrong_side_goes(papers: Json) -> None:
    change(
        papers,
        3,
        goes="high",
        text='Rip 4½" from the far edge; the far part goes: stack B for 5-1.',
    )


def wrong_corner(papers: Json) -> None:
    change(papers, 4, path=[[24, 4], [30, 4], [30, 2.5]])
    text = cuts(papers)[3]["text"]
    change(papers, 4, text=text.replace("far left corner", "near left corner"))


def leftover_too_long(papers: Json) -> None:
    papers["plan"]["offcuts"][2]["outline"] = [(25.6, 0), (48, 0), (48, 7), (29.6, 7)]


def leftover_left_out(papers: Json) -> None:
    del papers["plan"]["offcuts"][2]


def leftover_made_up(papers: Json) -> None:
    box = [(0, 0), (9, 0), (9, 7), (0, 7)]
    papers["plan"]["offcuts"].append({**papers["plan"]["offcuts"][2], "id": "F4", "outline": box})


def leftover_keeps_nothing(papers: Json) -> None:
    papers["plan"]["offcuts"][0]["keeps"] = []


def leftover_on_another_stack(papers: Json) -> None:
    papers["plan"]["offcuts"][1]["stack"] = "A"


def limits_spoil_the_next_piece(papers: Json) -> None:
    # 24 less the kerf is the most that 3-1 leaves to the piece cut before it.
    change(papers, 1, limits=[19.5, 24])
    text = cuts(papers)[0]["text"]
    change(papers, 1, text=text.replace('20½"', '24"'))


def limits_without_the_figure(papers: Json) -> None:
    change(papers, 1, limits=[20.5, 21])
    text = cuts(papers)[0]["text"]
    change(papers, 1, text=text.replace('19½" and 20½"', '20½" and 21"'))


def slant_leans_the_other_way(papers: Json) -> None:
    change(papers, 1, plank=2, path=[[30, 0], [26, 7]])
    text = cuts(papers, 2)[0]["text"]
    change(papers, 1, plank=2, text=text.replace("near edge", "far  edge", 1))
    text = cuts(papers, 2)[0]["text"].replace("the far edge", "the near edge")
    change(papers, 1, plank=2, text=text.replace("far  edge", "far edge"))


def hole_moved(papers: Json) -> None:
    change(papers, 2, plank=2, at=10.5, path=[[10.5, 2], [14.5, 2], [14.5, 4], [10.5, 4]])
    change(
        papers,
        2,
        plank=2,
        text='Cut out 10½" to 14½" from the left end, 2" to 4" from the near edge: waste.',
    )


def good_part_thrown_away(papers: Json) -> None:
    cuts(papers, 2)[0]["then"]["waste"] = True


# What the fault must name, for each way to spoil the papers.
BOTH: dict[Spoil, str] = {
    wrong_order: "piece 3-1",
    kerf_too_wide: "piece 5-1",
    missing_cut: "piece 5-1",
    moved_cut: "piece 5-1",
    wrong_end: "the left end is",
    wrong_side_goes: "piece 3-1",
    wrong_corner: "piece 3-1",
    leftover_too_long: "leftover F3 off by 0.5",
    leftover_left_out: "the plan lists no leftover for None",
    leftover_made_up: "leftover F4 for None never comes",
    leftover_keeps_nothing: "leftover F1 has 27.625 of its low side",
    leftover_on_another_stack: "leftover F2 on stack A",
    limits_spoil_the_next_piece: "on site, piece 3-1 lost",
    limits_without_the_figure: "do not hold",
    slant_leans_the_other_way: "piece 2-2",
    hole_moved: "piece 2-2",
    good_part_thrown_away: "waste though it can be used",
}


@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS)
@pytest.mark.parametrize("spoil", BOTH, ids=lambda spoil: spoil.__name__)
def test_a_spoiled_sheet_is_caught(spoil: Spoil, way: MakeReader) -> None:
    assert BOTH[spoil] in spoiled(spoil, way)


def at_off(papers: Json) -> None:
    change(papers, 5, at=18.125)


def path_off(papers: Json) -> None:
    change(papers, 2, path=[[24.125, 0], [24.125, 7]])


def path_too_short(papers: Json) -> None:
    change(papers, 5, path=[[30, 0], [30, 2]])


def limits_off_the_plank(papers: Json) -> None:
    change(papers, 1, limits=[-1, 20.5])


def limits_on_an_exact_cut(papers: Json) -> None:
    change(papers, 2, limits=[23, 25])


def wrong_tool(papers: Json) -> None:
    change(papers, 2, tool="score")


def counted_wrong(papers: Json) -> None:
    change(papers, 2, n=3)


def planks_out_of_order(papers: Json) -> None:
    papers["sheet"]["planks"].reverse()


def a_piece_of_another_plank(papers: Json) -> None:
    cuts(papers)[4]["then"]["in_hand"] = "2-2"


def takes_nothing(papers: Json) -> None:
    again = {**cuts(papers)[4], "n": 6}
    cuts(papers).append(again)


FIGURES_ALONE: dict[Spoil, str] = {
    at_off: "at 18.1250 from the right end",
    path_off: "at 24.0000 from the right end",
    path_too_short: "runs on to",
    limits_off_the_plank: "leave the plank",
    limits_on_an_exact_cut: "final exact with limits",
    wrong_tool: "tool score",
    takes_nothing: "cut 6 (crosscut): it takes nothing",
    counted_wrong: "cuts count [1, 3",
    planks_out_of_order: "do not stand as",
    a_piece_of_another_plank: "no part put aside is to become 2-2",
}


@pytest.mark.parametrize("spoil", FIGURES_ALONE, ids=lambda spoil: spoil.__name__)
def test_a_false_figure_is_caught(spoil: Spoil) -> None:
    assert FIGURES_ALONE[spoil] in spoiled(spoil)


def unreadable(papers: Json) -> None:
    change(papers, 2, text="Cut it to fit.")


def off_by_an_eighth(papers: Json) -> None:
    change(papers, 2, text='Cut square 23⅞" from the right end; the left part goes: waste.')


def on_another_stack(papers: Json) -> None:
    text = cuts(papers)[2]["text"]
    change(papers, 3, text=text.replace("stack B", "stack A"))


def exact_in_words(papers: Json) -> None:
    text = cuts(papers)[0]["text"]
    change(papers, 1, text=f"C{text.partition('as drawn, c')[2]}")


def another_slope(papers: Json) -> None:
    text = cuts(papers, 2)[0]["text"]
    change(papers, 1, plank=2, text=text.replace('run 4"', 'run 4¼"'))


WORDS_ALONE: dict[Spoil, str] = {
    unreadable: "can't be followed: Cut it to fit",
    off_by_an_eighth: "piece 3-1",
    on_another_stack: "on stack A in words",
    exact_in_words: "final measure on site, in words",
    another_slope: "rise 7.0 over run 4.25",
}


@pytest.mark.parametrize("spoil", WORDS_ALONE, ids=lambda spoil: spoil.__name__)
def test_false_words_are_caught_though_the_figures_are_right(spoil: Spoil) -> None:
    assert spoiled(spoil) == ""
    assert WORDS_ALONE[spoil] in spoiled(spoil, WORDS)


TURNED = {"left": "right", "right": "left", "near": "far", "far": "near"}


def test_from_the_high_side_the_words_turn_round() -> None:
    sheet = a_sheet()
    for entry in sheet["planks"]:
        for cut in entry["cuts"]:
            words = cut["text"].replace("; ", " ; ").replace(", ", " , ").split(" ")
            turned = " ".join(TURNED.get(word, word) for word in words)
            cut["text"] = turned.replace(" ; ", "; ").replace(" , ", ", ")
    assert sheet_faults(a_request(start="high"), a_plan(), sheet, WORDS) == []
    assert sheet_faults(a_request(), a_plan(), sheet, WORDS) != []
