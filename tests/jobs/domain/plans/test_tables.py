"""A plan's cartons held against what custom would have bought."""

from __future__ import annotations

from dataclasses import replace

from jobs.domain.plans.tables import carton_sentence, cartons_by_custom
from tests.layout import three_rows


def test_cartons_are_held_against_cartons_with_the_spares_on_both_sides() -> None:
    plan, request = three_rows.plan(), three_rows.request()
    board = replace(request.product.board, per_carton=4)
    per = replace(request.product, boards=(board,))
    bare, spare = replace(request, product=per, spares=0), replace(request, product=per, spares=3)
    # 100.5 x 21.5 = 2160.75 in2, 10 % more 2376.825; a board of 48 x 7 is 336: 8 planks.
    assert (cartons_by_custom(bare, plan), cartons_by_custom(spare, plan)) == (2, 3)
    assert carton_sentence(spare, plan).endswith("3 spare on both sides.")
