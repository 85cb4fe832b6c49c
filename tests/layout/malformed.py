"""Requests spoiled at random: every one must end as a plan, or in one line and exit 2.

python -m tests.layout.malformed --count 5000 --seed 1
"""

from __future__ import annotations

import argparse
import contextlib
import io
import json
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from copy import deepcopy
from pathlib import Path
from random import Random
from typing import Any

from layout.__main__ import main
from tests.rooms import ROOMS

EFFORT_S = 0.05
ODD: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 1, 1e-9, -0.0, 1e308, -1e308, 10**30, 2**63, 0.1 + 0.2),
    *(float("nan"), float("inf"), "", "12", "'", "\ud800", "\u0000", "best", "x" * 500),
    *([], {}, [[]], [[0, 0]], [[0, 0], [1, 1], [2, 2]], {"a": 1}, [None], "1e5", 47.99, 7),
)


def spoiled(random: Random) -> str:
    """Return a request as text, spoiled in one to three places."""
    request = random.choice(list(ROOMS.values()))()
    request.pop("effort_iterations", None)
    request["effort_s"] = EFFORT_S
    for _ in range(random.randint(1, 3)):
        _spoil(request, random)
    text = json.dumps(request)
    if random.random() < 0.1:
        at = random.randrange(len(text))
        text = text[:at] + random.choice(["", "{", '"', "9" * 50, "\u00e9", ","]) + text[at + 1 :]
    return text


def _spoil(request: dict[str, Any], random: Random) -> None:
    """Change, remove, double or add one thing somewhere in the request."""
    places = list(_places(request))
    holder, key = random.choice(places)
    what = random.randrange(6)
    if what == 0 and isinstance(holder, dict):
        del holder[key]
    elif what == 1 and isinstance(holder, list):
        holder.insert(key, deepcopy(holder[key]))
    elif what == 2 and isinstance(holder[key], int | float) and key != "effort_s":
        holder[key] = holder[key] * random.choice([-1, 0, 0.01, 10, 1000, 1.0001])
    elif what == 3 and isinstance(holder, dict):
        holder[random.choice(["gap", "kerf", "holes", "x", "laid", "on_hand"])] = deepcopy(
            random.choice(ODD)
        )
    else:
        holder[key] = deepcopy(random.choice(ODD))


def _places(value: Any) -> Sequence[tuple[Any, Any]]:
    """Return every (holder, key) inside a value."""
    if not isinstance(value, dict | list):
        return []
    keys = list(value) if isinstance(value, dict) else list(range(len(value)))
    inner = [place for key in keys for place in _places(value[key])]
    return [*((value, key) for key in keys), *inner]


def outcome(text: str, folder: Path) -> tuple[int, str, str, float]:
    """Return exit code, stdout, stderr and seconds of planning a request."""
    path = folder / "request.json"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    out, err = io.TextIOWrapper(io.BytesIO()), io.StringIO()
    began = time.perf_counter()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(["plan", str(path)])
    out.seek(0)
    return code, out.read(), err.getvalue(), time.perf_counter() - began


def wrong_with(code: int, out: str, err: str) -> str | None:
    """Return what is wrong with an outcome, None where nothing is."""
    if code == 0:
        return None if json.loads(out)["pieces"] else "exit 0 without a plan"
    if code != 2:
        return f"exit {code}"
    if "can't be worked out" in err:
        return err
    return None if out == "" and len(err.splitlines()) == 1 else f"not one line: {err!r}"


def run(count: int, seed: int) -> tuple[Counter[int], list[str], tuple[float, str]]:
    """Return exit codes, everything wrong, and the slowest with its seconds."""
    random, codes, wrong, slowest = Random(seed), Counter[int](), [], (0.0, "")
    with tempfile.TemporaryDirectory() as folder:
        for i in range(count):
            text = spoiled(random)
            code, out, err, seconds = outcome(text, Path(folder))
            codes[code] += 1
            slowest = max(slowest, (seconds, text))
            if fault := wrong_with(code, out, err):
                wrong.append(f"{i}: {fault.strip()} <- {text[:2000]}")
    return codes, wrong, slowest


def report() -> None:
    """Run as a script: print the outcome over many requests."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    codes, wrong, slowest = run(options.count, options.seed)
    exits = ", ".join(f"exit {code}: {number}" for code, number in sorted(codes.items()))
    lines = [
        f"{options.count} requests; {exits}; wrong: {len(wrong)}",
        f"longest {slowest[0]:.2f} s at an effort of {EFFORT_S} s: {slowest[1][:2000]}",
        *wrong,
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    report()
