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
OFFENSES = [
    ("stories", "layout.values.errors", "jobs.domain.checks"),
    ("stories", "jobs.domain.checks", "estimates.models"),
    ("stories", "estimates.models.money", "installer_site.env"),
    ("pure", "layout.values.outline", "django"),
    ("pure", "layout.values.outline", "weasyprint"),
    ("pure", "layout.judge.check", "time"),
    ("pure", "layout.values.outline", "os"),
    ("pure", "layout.values.outline", "pathlib"),
    ("pure", "jobs.domain.scope.takeoff", "django"),
    ("pure", "jobs.domain.rooms.outline", "time"),
    ("pure", "estimates.domain.pricing", "os"),
    ("no-chance", "jobs.domain.days.days", "random"),
    ("no-chance", "estimates.domain.pricing", "random"),
    ("jobs-floors", "jobs.domain.checks", "jobs.models"),
    ("jobs-floors", "jobs.models.room", "jobs.readers.floors.floors"),
    ("jobs-floors", "jobs.readers.scope", "jobs.services.scope"),
    ("jobs-floors", "jobs.services.rooms", "jobs.forms.rooms.rooms"),
    ("jobs-floors", "jobs.forms.rooms.rooms", "jobs.views.rooms"),
    ("estimates-floors", "estimates.readers.prices", "estimates.services.quotes"),
    ("estimates-floors", "estimates.services.quotes", "estimates.views.quotes"),
    ("layout-floors", "layout.values.errors", "layout.rows.rows"),
    ("layout-floors", "layout.rows.rows", "layout.joints.search"),
    ("layout-floors", "layout.judge.check", "layout.drawing.plan"),
    ("beside-the-planner", "layout.judge.check", "layout.planner.plan_floor"),
    ("beside-the-planner", "layout.judge.view", "layout.rows.rows"),
    ("beside-the-planner", "layout.proof.certificate", "layout.bounds.find"),
    ("beside-the-planner", "layout.drawing.plan", "layout.joints.search"),
    ("judge-alone", "layout.judge.cutting.parting", "layout.saw.order"),
    ("judge-alone", "layout.judge.check", "layout.cutsheet.sheet"),
    ("beside-the-planner", "layout.saw.order", "layout.planks.parts"),
    ("pint-door", "layout.values.outline", "pint"),
    ("solver-door", "layout.rows.rows", "highspy"),
    ("pdf-door", "estimates.models.money", "weasyprint"),
    ("calendar-door", "jobs.domain.days.days", "icalendar"),
    ("calendar-door", "estimates.models.money", "holidays"),
    ("qr-door", "jobs.domain.days.days", "segno"),
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
    ended = subprocess.run(
        [
            Path(sys.executable).with_name("lint-imports"),
            *("--no-cache", "--no-logo", "--contract", contract),
        ],
        cwd=house,
        capture_output=True,
        text=True,
        check=False,
    )
    return " ".join((ended.stdout + ended.stderr).split())


@pytest.mark.parametrize("contract", NAMES)
def test_a_contract_is_kept_and_is_broken_by_some_offense(contract: str, house: Path) -> None:
    assert contract in {offense[0] for offense in OFFENSES}
    assert f"{NAMES[contract]} KEPT" in verdict(house, contract)


@pytest.mark.parametrize(("contract", "module", "imported"), OFFENSES)
def test_an_offense_is_caught(contract: str, module: str, imported: str, house: Path) -> None:
    file = house / f"{module.replace('.', '/')}.py"
    before = file.read_text()
    file.write_text(f"{before}\nimport {imported}\n")
    words = verdict(house, contract)
    file.write_text(before)
    assert f"{NAMES[contract]} BROKEN" in words
    assert f"{module} -> {imported}" in words


def test_a_file_without_a_place_in_the_core_is_caught(house: Path) -> None:
    homeless = house / "layout" / "homeless.py"
    homeless.write_text("")
    words = verdict(house, "layout-floors")
    homeless.unlink()
    assert "not listed as layers: - layout.homeless" in words
