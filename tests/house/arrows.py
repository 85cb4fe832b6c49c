"""The arrows between the rooms of a package, as the import graph has them.

    python -m tests.house.arrows            of jobs
    python -m tests.house.arrows layout     of another package

A room is a folder, or a module, directly in the package; an arrow is one room importing another.
"""

from __future__ import annotations

import sys
from collections import Counter

import grimp

PACKAGES = ("layout", "jobs", "estimates", "installer_site")


def arrows(package: str) -> Counter[tuple[str, str]]:
    """Return how many imports run from one room of a package to another, migrations aside."""
    graph = grimp.build_graph(*PACKAGES)
    counted: Counter[tuple[str, str]] = Counter()
    for module in graph.modules:
        start = _room(package, module)
        for imported in graph.find_modules_directly_imported_by(module) if start else ():
            end = _room(package, imported)
            if start and end and start != end and "migrations" not in start:
                counted[start, end] += 1
    return counted


def _room(package: str, module: str) -> str:
    """Return the room of a module; empty for what lies outside the package."""
    parts = module.split(".")
    return ".".join(parts[:2]) if parts[0] == package and len(parts) > 1 else ""


def main() -> None:
    """Print every arrow with its imports, and how many there are."""
    package = sys.argv[1] if len(sys.argv) > 1 else "jobs"
    counted = arrows(package)
    for (start, end), imports in sorted(counted.items()):
        sys.stdout.write(f"{start} -> {end}  {imports}\n")
    sys.stdout.write(f"{len(counted)} arrows between the rooms of {package}\n")


if __name__ == "__main__":
    main()
