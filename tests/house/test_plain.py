"""The units of a plain machine, as far as they can be judged without one."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.conftest import ROOT

UNITS = sorted((ROOT / "docker" / "plain").glob("*.service"))
PYTHON = "/opt/rowbook/current/venv/bin/python"


def test_there_is_a_unit_for_the_pages_and_one_for_the_worker() -> None:
    assert [unit.name for unit in UNITS] == ["rowbook-web.service", "rowbook-work.service"]


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.stem)
def test_a_unit_is_one_that_the_system_takes(unit: Path, tmp_path: Path) -> None:
    verify = shutil.which("systemd-analyze")
    if verify is None:
        pytest.skip("no systemd-analyze on this machine")
    # Only the program is one that is there: the release is not installed where tests run.
    there = tmp_path / unit.name
    there.write_text(unit.read_text().replace(PYTHON, "/usr/bin/python3"))
    done = subprocess.run(
        [verify, "verify", str(there)], capture_output=True, text=True, check=False
    )
    said = [line for line in done.stderr.splitlines() if unit.name in line]
    assert (said, done.returncode) == ([], 0)


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.stem)
def test_a_unit_runs_as_nobody_who_may_do_more(unit: Path) -> None:
    lines = set(unit.read_text().splitlines())
    assert {"User=rowbook", "NoNewPrivileges=yes", "CapabilityBoundingSet="} <= lines
    assert {"ProtectSystem=strict", "UMask=0077", "EnvironmentFile=/etc/rowbook.env"} <= lines


def test_web_runs_what_the_image_runs() -> None:
    words = re.search(r"ExecStart=.*gunicorn (.*)", UNITS[0].read_text())
    entrypoint = (ROOT / "docker" / "entrypoint.sh").read_text()
    assert words
    flags = set(re.findall(r"--(?!bind)[a-z-]+(?: \d+)?", words[1]))
    assert flags
    assert {flag for flag in flags if flag not in entrypoint} == set()
