"""What the judge reads off an outline: which cuts must be told, and which may."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon

from layout.judge.cutting.figures import shown_by
from tests.layout.judge.cutting.test_parting import piece


@pytest.mark.parametrize(("deep", "must"), [(1 / 64, False), (1 / 32, False), (1 / 16, True)])
def test_a_notch_no_thicker_than_a_thirty_second_may_be_told_or_not(
    deep: float, must: bool
) -> None:
    corner = [(48, 7 - deep), (30, 7 - deep), (30, 7)]
    notched = piece("1-1", Polygon([(0, 0), (48, 0), *corner, (0, 7)]))
    assert [shown.deep for shown in shown_by(notched, 0.01, 1 / 32)] == [must]
