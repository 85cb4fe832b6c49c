"""Today, now and the day of a moment come from `jobs/clock.py`; elsewhere nothing tells them.

A moment is stored in UTC, so a day cut out of it by hand is tomorrow in a New York evening. Read
off the syntax tree; each way round the clock is taken once on purpose.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.conftest import ROOT

FOLDERS = ("layout", "jobs", "estimates", "installer_site", "tests")
# The clock itself, and the reader of TIME_ZONE, which refuses a bad name before anything starts.
AT_HOME = ("jobs/clock.py", "installer_site/env.py")
# Of Django's clock only this one is for everybody: the moment that is stored.
STORED = "now"
CUTS = {"today", "utcnow", "astimezone", "localdate", "localtime", "make_naive"}
WORDS = {"strftime", "isoformat", "ctime", "date", "time"}
TAGS = re.compile(r"\{%-? *(?:now|load [^%]*\btz\b|localtime|timezone)\b|\| *(?:utc|localtime)\b")


def faults(source: str) -> list[str]:
    """Return each place that tells a day or an hour without the clock, as `line: what`."""
    tree = ast.parse(source)
    places = sorted({pair for node in ast.walk(tree) for pair in _faults_of(node)})
    return [f"{line}: {what}" for line, what in places]


def _faults_of(node: ast.AST) -> Iterator[tuple[int, str]]:
    if isinstance(node, ast.Import):
        yield from ((node.lineno, one.name) for one in node.names if one.name == "zoneinfo")
    elif isinstance(node, ast.ImportFrom):
        yield from ((node.lineno, f"{node.module}.{what}") for what in _imported(node))
    elif isinstance(node, ast.Attribute) and _is_django_clock(node.value) and node.attr != STORED:
        yield node.lineno, f"timezone.{node.attr}"
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        if _tells_a_day(node, node.func):
            yield node.lineno, f".{node.func.attr}()"
    elif isinstance(node, ast.FormattedValue) and _is_moment(node.value) and not _says_zone(node):
        yield node.lineno, "a moment in a sentence"


def _imported(node: ast.ImportFrom) -> list[str]:
    """Return the names that this import brings round the clock."""
    names = [one.name for one in node.names]
    if node.module == "zoneinfo":
        return names
    if node.module == "django.utils.timezone":
        return [name for name in names if name != STORED]
    renamed = [one.name for one in node.names if one.asname not in (None, one.name)]
    return [name for name in renamed if (node.module, name) == ("django.utils", "timezone")]


def _is_django_clock(node: ast.expr) -> bool:
    """Whether this is Django's module `timezone`, by name or as an attribute of a module."""
    return (isinstance(node, ast.Name) and node.id == "timezone") or (
        isinstance(node, ast.Attribute) and node.attr == "timezone"
    )


def _tells_a_day(call: ast.Call, method: ast.Attribute) -> bool:
    """Whether this call cuts a day out of a moment, or puts a stored moment into words."""
    if method.attr in CUTS or (method.attr == "date" and not (call.args or call.keywords)):
        return True
    return method.attr in WORDS and _is_moment(method.value)


def _is_moment(node: ast.expr) -> bool:
    """Whether this is a stored moment by its name: `at`, `made_at`, or a call of `timezone.now`."""
    if isinstance(node, ast.Call):
        return isinstance(node.func, ast.Attribute) and _is_django_clock(node.func.value)
    name = node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")
    return isinstance(name, str) and (name == "at" or name.endswith("_at"))


def _says_zone(node: ast.FormattedValue) -> bool:
    """Whether the words of a moment name its zone themselves: for those who run the server."""
    return node.format_spec is not None and "%Z" in ast.unparse(node.format_spec)


def code() -> list[Path]:
    """Return every module of the house and its tests except those at home with the clock."""
    files = [file for folder in FOLDERS for file in (ROOT / folder).rglob("*.py")]
    return [file for file in files if file.relative_to(ROOT).as_posix() not in AT_HOME]


def test_no_module_goes_round_the_clock() -> None:
    by_file = {file.relative_to(ROOT).as_posix(): faults(file.read_text()) for file in code()}
    assert {name: lines for name, lines in by_file.items() if lines} == {}
    assert len(by_file) > 200


@pytest.mark.parametrize(
    "line",
    [
        "today = timezone.localdate()",
        "today = timezone.localdate(moment, zone)",
        "now = timezone.localtime(made)",
        "today = timezone.now().date()",
        "today = utils.timezone.localdate()",
        "day = job.closed_at.date()",
        "day = moment.date()",
        "day = date.today()",
        "now = moment.astimezone(zone)",
        "timezone.activate(zone)",
        "with timezone.override(zone): pass",
        "from django.utils.timezone import localdate",
        "from django.utils.timezone import localtime as local",
        "from django.utils import timezone as clock",
        "from zoneinfo import ZoneInfo",
        "import zoneinfo",
        "note = f'Closed {job.closed_at:%b}'",
        "note = f'Made {made_at}'",
        "note = f'{timezone.now():%d}'",
        "note = line.at.isoformat()",
        "note = timezone.now().strftime('%d')",
        "note = plan.made_at.strftime('%d')",
    ],
)
def test_a_way_round_the_clock_is_caught(line: str) -> None:
    assert faults(line)


@pytest.mark.parametrize(
    "line",
    [
        "from django.utils import timezone",
        "job.closed_at = timezone.now()",
        "at = models.DateTimeField(default=timezone.now)",
        "until = timezone.now() + lease",
        "old = row.seen_at < timezone.now() - ALIVE_FOR",
        "today = today_of(job.company)",
        "note = f'{day.date:%b} {day.date.day}'",
        "note = day.date.isoformat()",
        "note = f'seen {self.seen_at:%H:%M:%S %Z}'",
        "began = time.monotonic()",
        "first = datetime.date(2027, 3, 1)",
    ],
)
def test_what_needs_no_clock_is_let_through(line: str) -> None:
    assert faults(line) == []


def test_no_template_goes_round_the_clock() -> None:
    pages = list((ROOT / "templates").rglob("*.html"))
    assert [page.name for page in pages if TAGS.search(page.read_text())] == []
    assert len(pages) > 50


@pytest.mark.parametrize(
    "tag",
    [
        '{% now "Y-m-d" %}',
        "{% load tz %}",
        "{% load look tz %}",
        "{% localtime off %}",
        '{% timezone "UTC" %}',
        "{{ packet.made_at|utc }}",
    ],
)
def test_a_tag_round_the_clock_is_caught(tag: str) -> None:
    assert TAGS.search(tag)
