"""Each import contract broken once on purpose, in a copy, and caught."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.conftest import ROOT

PACKAGES = ("installer_site", "estimates", "jobs", "layout")
CONTRACTS = {
    contract["id"]: contract
    for contract in tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"][
        "contracts"
    ]
}
OFFENCES = [
    # contract, file, the line that should not be there
    ("storeys", "layout/errors.py", "import jobs.checked"),
    ("storeys", "jobs/checked.py", "import estimates.models"),
    ("storeys", "estimates/models.py", "import installer_site.env"),
    ("layout-pure", "layout/outline.py", "import django.conf"),
    ("layout-pure", "layout/outline.py", "import time"),
    ("layout-pure", "layout/outline.py", "import random"),
    ("layout-pure", "layout/outline.py", "import os"),
    ("arithmetic-pure", "jobs/takeoff.py", "from django.utils import timezone"),
    ("arithmetic-pure", "jobs/checked.py", "import os"),
    ("layout-layers", "layout/errors.py", "import layout.outline"),
    ("layout-layers", "layout/outline.py", "import layout.material"),
    ("layout-layers", "layout/homeless.py", ""),
    ("pint-door", "layout/outline.py", "import pint"),
    ("solver-door", "layout/rows.py", "import highspy"),
    ("pdf-door", "estimates/models.py", "import weasyprint"),
]


def copy_of_the_house(folder: Path) -> Path:
    """Copy the packages and their contracts to a folder; return it."""
    shutil.copy(ROOT / "pyproject.toml", folder)
    for package in PACKAGES:
        shutil.copytree(
            ROOT / package,
            folder / package,
            ignore=shutil.ignore_patterns("static", "__pycache__"),
        )
    return folder


def judge(folder: Path, contract: str) -> subprocess.CompletedProcess[str]:
    """Check one contract in a folder."""
    linter = Path(sys.executable).with_name("lint-imports")
    return subprocess.run(
        [linter, "--no-cache", "--no-logo", "--contract", contract],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("contract", sorted(CONTRACTS))
def test_a_contract_is_broken_by_some_offence_below(contract: str) -> None:
    assert contract in {offence[0] for offence in OFFENCES}


@pytest.mark.parametrize(("contract", "file", "line"), OFFENCES)
def test_an_offence_is_caught(contract: str, file: str, line: str, tmp_path: Path) -> None:
    house = copy_of_the_house(tmp_path)
    with (house / file).open("a") as code:
        code.write(f"\n{line}\n")
    found = judge(house, contract)
    assert found.returncode == 1
    assert f"{CONTRACTS[contract]['name']} BROKEN" in " ".join(found.stdout.split())
