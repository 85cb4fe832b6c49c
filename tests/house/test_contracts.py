"""Each import contract broken on purpose, in a copy of the house, and caught."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.conftest import ROOT

PACKAGES = ("installer_site", "estimates", "jobs", "layout")
LINTER = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]
NAMES: dict[str, str] = {contract["id"]: contract["name"] for contract in LINTER["contracts"]}

# contract, module, what it should not import
OFFENCES = [
    ("storeys", "layout.errors", "jobs.checked"),
    ("storeys", "jobs.checked", "estimates.models"),
    ("storeys", "estimates.models", "installer_site.env"),
    ("layout-pure", "layout.outline", "django"),
    ("layout-pure", "layout.outline", "weasyprint"),
    ("layout-pure", "layout.outline", "time"),
    ("layout-pure", "layout.outline", "os"),
    ("layout-pure", "layout.outline", "pathlib"),
    ("arithmetic-pure", "jobs.takeoff", "django"),
    ("arithmetic-pure", "jobs.takeoff", "time"),
    ("arithmetic-pure", "jobs.takeoff", "os"),
    ("arithmetic-pure", "estimates.pricing", "time"),
    ("layout-layers", "layout.errors", "layout.outline"),
    ("layout-layers", "layout.outline", "layout.material"),
    ("beside-the-planner", "layout.judge", "layout.planner"),
    ("beside-the-planner", "layout.judge_view", "layout.rows"),
    ("beside-the-planner", "layout.drawing", "layout.joints"),
    ("pint-door", "layout.outline", "pint"),
    ("solver-door", "layout.rows", "highspy"),
    ("pdf-door", "estimates.models", "weasyprint"),
    ("calendar-door", "jobs.days", "icalendar"),
    ("calendar-door", "estimates.models", "holidays"),
]


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder that holds a copy of the packages and their contracts."""
    folder = tmp_path_factory.mktemp("house")
    shutil.copy(ROOT / "pyproject.toml", folder)
    for package in PACKAGES:
        shutil.copytree(ROOT / package, folder / package, ignore=shutil.ignore_patterns("static"))
    return folder


def verdict(house: Path, contract: str) -> str:
    """Return what the linter says about one contract, on one line."""
    found = subprocess.run(
        [
            Path(sys.executable).with_name("lint-imports"),
            *("--no-cache", "--no-logo", "--contract", contract),
        ],
        cwd=house,
        capture_output=True,
        text=True,
        check=False,
    )
    return " ".join((found.stdout + found.stderr).split())


@pytest.mark.parametrize("contract", NAMES)
def test_a_contract_is_kept_and_is_broken_by_some_offence(contract: str, house: Path) -> None:
    assert contract in {offence[0] for offence in OFFENCES}
    assert f"{NAMES[contract]} KEPT" in verdict(house, contract)


@pytest.mark.parametrize(("contract", "module", "imported"), OFFENCES)
def test_an_offence_is_caught(contract: str, module: str, imported: str, house: Path) -> None:
    file = house / f"{module.replace('.', '/')}.py"
    before = file.read_text()
    file.write_text(f"{before}\nimport {imported}\n")
    found = verdict(house, contract)
    file.write_text(before)
    assert f"{NAMES[contract]} BROKEN" in found
    assert f"{module} -> {imported}" in found


def test_a_file_without_a_place_in_the_core_is_caught(house: Path) -> None:
    homeless = house / "layout" / "homeless.py"
    homeless.write_text("")
    found = verdict(house, "layout-layers")
    homeless.unlink()
    assert "not listed as layers: - layout.homeless" in found
