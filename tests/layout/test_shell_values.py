"""Published optima of cutting stock through the shell: `python -m layout trim`, proven each time.

All were solved again over every maximal pattern by HiGHS when they were collected. First fit, the
longest first, takes more wherever a figure stands for it: so a cut list that only fits is seen.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from random import Random
from typing import Any

import pytest

from layout.__main__ import main
from tests.layout.packing_instances import INSTANCES
from tests.layout.trim.test_packing import PAPER, T60_00


def cut_list(folder: Path, stock: float, pieces: Mapping[float, int]) -> dict[str, Any]:
    """Return the cut list that the command writes for pieces by length, no kerf."""
    request = {
        "format": 1,
        "unit": "in",
        "saw_kerf": 0,
        "stock": [{"id": "stick", "length": stock, "price": "1"}],
        "pieces": [
            {"id": f"p{length:g}", "length": length, "count": count}
            for length, count in pieces.items()
        ],
    }
    (folder / "request.json").write_text(json.dumps(request))
    assert main(["trim", str(folder / "request.json"), "-o", str(folder / "cuts.json")]) == 0
    written: dict[str, Any] = json.loads((folder / "cuts.json").read_text())
    return written


def by_length(text: str) -> dict[float, int]:
    """Return lengths and counts of "1380x22 1520x25"."""
    pairs = (pair.split("x") for pair in text.split())
    return {float(length): int(count) for length, count in pairs}


U120_01 = INSTANCES["u120_01"]
OPTIMA: dict[str, tuple[float, dict[float, int], int]] = {
    # The standing example of encyclopedias, rolls of 5600: 73, first fit 82.
    "paper machine": (560.0, {k / 10: n for k, n in by_length(PAPER).items()}, 73),
    # W. L. Winston, Operations Research: Applications and Algorithms, column generation: 19.
    "boards of 17": (17.0, {3.0: 25, 5.0: 20, 9.0: 15}, 19),
    # E. Falkenauer, Journal of Heuristics 2 (1996), t60_00: 20 without waste, first fit 23.
    # The same paper, uniform class, u120_01: lower and upper bound agree.
    "u120_01": (
        U120_01[0] / 10,
        dict(Counter(int(item) / 10 for item in U120_01[2].split())),
        U120_01[1],
    ),
    # A lumber yard's 25 ft boards, a textbook's exercise: 775 and 875, first fit 784 and 884.
    "lumber yard": (25.0, {7.0: 700, 9.0: 1200, 10.0: 300}, 775),
    "lumber yard, more of the longest": (25.0, {7.0: 700, 9.0: 1200, 10.0: 500}, 875),
    "t60_00": (100.0, dict(Counter(int(item) / 10 for item in T60_00.split())), 20),
}


@pytest.mark.parametrize("name", OPTIMA)
def test_a_published_optimum_is_found_and_proven_by_the_command(name: str, tmp_path: Path) -> None:
    stock, pieces, sticks = OPTIMA[name]
    cuts = cut_list(tmp_path, stock, pieces)
    assert cuts["totals"]["sticks"] == sticks
    assert cuts["status"] == "proven"


@pytest.mark.parametrize("seed", range(6))
def test_no_cut_list_takes_more_than_first_fit_would_be_let(seed: int, tmp_path: Path) -> None:
    # G. Dosa, 2007, from memory: first fit, the longest first, takes at most 11/9 of the fewest +
    # 6/9. The command never takes more, held against what it says none can go below.
    chance = Random(seed)
    pieces = Counter(float(chance.randint(5, 40)) for _ in range(25))
    totals = cut_list(tmp_path, 60.0, pieces)["totals"]
    assert 9 * totals["sticks"] <= 11 * Decimal(totals["lower_bound_cost"]) + 6
