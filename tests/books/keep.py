"""Keep a demo's database and files as a book: `python -m tests.books.keep FOLDER`.

ROWBOOK_VAR and DATABASE_URL say which database; README.md beside this file tells the whole way.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import django
from django.apps import apps
from django.conf import settings
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.db.models import Model

from tests.books.book import columns, models_at, tables

# What would let somebody in, or names the machine, and what stands there instead.
BLANKED: Mapping[str, Mapping[str, str]] = {
    "jobs.User": {"password": "!kept"},
    "jobs.Errand": {"claimed_by": ""},
}
LEFT_OUT = ("jobs.WorkerBeat",)
"""Signs of life of workers that are long dead when a book is read."""


def keep(folder: Path) -> list[str]:
    """Write the book of the database in use; return the tables that had no row to keep."""
    migrations = sorted(MigrationExecutor(connection).loader.graph.leaf_nodes())
    models = tables(models_at(tuple(migrations)))
    (folder / "rows").mkdir(parents=True)
    shutil.copytree(settings.MEDIA_ROOT, folder / "files")
    rows = {
        model._meta.label: _keep_rows(folder / "rows", model)
        for model in models
        if model._meta.label not in LEFT_OUT
    }
    content = {
        "release": settings.VERSION,
        "migrations": dict(migrations),
        "documents": {row["id"]: row["sha256"] for row in rows["jobs.Document"]},
        "files": {row["id"]: row["sha256"] for row in rows["jobs.StoredFile"]},
    }
    text = json.dumps(content, indent=1)
    (folder / "book.json").write_text(f"{text}\n", encoding="utf-8")
    return [label for label, lines in rows.items() if not lines]


def _keep_rows(folder: Path, model: type[Model]) -> list[dict[str, Any]]:
    """Write the rows of a table, if there are any; return them."""
    label = model._meta.label
    names = [field.attname for field in columns(model)]
    shown = model._default_manager.order_by("pk").values(*names)
    rows = [{**row, **BLANKED.get(label, {})} for row in shown]
    if rows:
        lines = [json.dumps(row, ensure_ascii=False, default=str) + "\n" for row in rows]
        (folder / f"{label}.jsonl").write_text("".join(lines), encoding="utf-8")
    return rows


def refusal(folder: Path) -> str:
    """Return why no book can be kept there, or nothing."""
    from installer_site.demo import story  # knows models, so not before Django is set up

    executor = MigrationExecutor(connection)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        return "the database is not migrated to today; run manage.py migrate first"
    companies = apps.get_model("jobs", "Company")._default_manager
    names = list(companies.values_list("name", flat=True))
    if names != [story.COMPANY["name"]]:
        held = ", ".join(names) or "no company"
        return f"the database holds {held}; accepted: the demo company alone"
    return f"{folder} is there already; accepted: a new folder" if folder.exists() else ""


def main() -> None:
    """Keep the book in the folder that the command line names."""
    parser = argparse.ArgumentParser(prog="python -m tests.books.keep", description=__doc__)
    parser.add_argument("folder", type=Path, help="a new folder, such as tests/books/0_2")
    folder: Path = parser.parse_args().folder
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    django.setup()
    if reason := refusal(folder):
        parser.error(reason)
    for label in keep(folder):
        sys.stdout.write(f"no row of {label}\n")


if __name__ == "__main__":
    main()
