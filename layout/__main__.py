"""The shell door of the layout core: plan, check, draw, sheet, trim.

    python -m layout plan  REQUEST.json [-o PLAN.json]
    python -m layout check REQUEST.json PLAN.json
    python -m layout draw  REQUEST.json PLAN.json [-o DRAWING.svg] [--casing PIECE]
    python -m layout sheet REQUEST.json PLAN.json [-o SHEET.json]
    python -m layout trim  REQUEST.json [-o CUTS.json]

Exit 0: done. Exit 1: ``check`` found faults, one line each on stdout. Exit 2: the request or the
plan can't be read or used, one line on stderr. Without ``-o`` the result goes to stdout and nothing
else does; progress goes to stderr. Ctrl-C stops planning and keeps the best plan so far; a second
one gives up. This module alone reads files and the clock.
"""

from __future__ import annotations

import argparse
import json
import os
import signal
import sys
import warnings
from collections.abc import Callable, Sequence
from pathlib import Path
from time import monotonic
from types import FrameType
from typing import TYPE_CHECKING, NoReturn, TypeVar

from layout.values.errors import LayoutError

if TYPE_CHECKING:
    from layout.planner.effort import Progress
    from layout.values.request import PlanRequest

DONE, FAULTS, UNUSABLE = 0, 1, 2
_MOST_BYTES = 64 * 1024 * 1024
Read = TypeVar("Read")  # what a reader makes of a file


class UnreadableError(LayoutError):
    """A file that can't be read, written or understood; the text names it and says why."""


class _Parser(argparse.ArgumentParser):
    """An argument parser that refuses in one line."""

    def error(self, message: str) -> NoReturn:
        """Raise the refusal instead of printing the usage."""
        text = f"{message}; accepted: {self.format_usage().removeprefix('usage: ')}"
        raise UnreadableError(" ".join(text.split()))


class _Interrupt:
    """Ctrl-C as a question: asked for once it stops the work, asked for twice it gives up."""

    def __init__(self) -> None:
        self.pressed = False

    def __enter__(self) -> _Interrupt:
        self._before = signal.signal(signal.SIGINT, self._ask)
        return self

    def __exit__(self, *_: object) -> None:
        signal.signal(signal.SIGINT, self._before)

    def _ask(self, _signal: int, _frame: FrameType | None) -> None:
        if self.pressed:
            raise KeyboardInterrupt
        self.pressed = True


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; nothing is raised and no traceback printed."""
    try:
        if not sys.warnoptions:
            warnings.simplefilter("ignore")
        options = _parser().parse_args(arguments)
        command: Callable[[argparse.Namespace], int] = options.command
        return command(options)
    except KeyboardInterrupt:
        return _refuse("stopped before a result stood")
    except LayoutError as error:
        return _refuse(str(error))
    except RecursionError:
        return _refuse("the input is nested too deeply; accepted: the interchange form")
    except MemoryError:
        return _refuse("the input is too large for this machine's memory")
    except BrokenPipeError:
        # Whoever read our output went away: nothing more to say, not even at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return UNUSABLE
    except Exception as error:  # noqa: BLE001 - the door's last promise: one line, no traceback
        return _refuse(f"can't be worked out ({type(error).__name__}: {error})")


def _refuse(text: str) -> int:
    """Print one line on stderr and return the exit code for what can't be used."""
    print("layout:", " ".join(text.split()), file=sys.stderr)
    return UNUSABLE


def _parser() -> _Parser:
    """Return the parser of the five commands."""
    parser = _Parser(prog="python -m layout", description="Plan plank floors.")
    commands = parser.add_subparsers(required=True, metavar="plan|check|draw|sheet|trim")
    for name, command, files, output in (
        ("plan", _plan, ("request",), True),
        ("check", _check, ("request", "plan"), False),
        ("draw", _draw, ("request", "plan"), True),
        ("sheet", _sheet, ("request", "plan"), True),
        ("trim", _trim, ("request",), True),
    ):
        sub = commands.add_parser(name)
        for file in files:
            sub.add_argument(file, type=Path, metavar=f"{file.upper()}.json")
        if output:
            sub.add_argument("-o", "--output", type=Path, default=None)
        if command is _draw:
            sub.add_argument("--casing", metavar="PIECE", default=None)
        sub.set_defaults(command=command)
    return parser


def _plan(options: argparse.Namespace) -> int:
    """Plan one zone within its effort."""
    began = monotonic()
    from layout.planner.plan_floor import plan_floor
    from layout.values.plan_form import plan_text
    from layout.values.request import read_request

    request = _read(options.request, read_request)
    _foresee(options.output)
    with _Interrupt() as interrupt:
        stop = _effort_clock(request, began, interrupt)
        plan = plan_floor(request, stop=stop, progress=_report(began))
    _write(options.output, plan_text(plan))
    totals = plan.totals
    words = f"{totals.planks} planks, {totals.cartons} cartons, bound {totals.lower_bound}"
    print(f"{words}, {plan.status}, {monotonic() - began:.1f} s", file=sys.stderr)
    return DONE


def _effort_clock(request: PlanRequest, began: float, interrupt: _Interrupt) -> Callable[[], bool]:
    """Return the question whether to stop: the effort in seconds is spent, or Ctrl-C came."""
    if request.effort_iterations is not None:
        return lambda: interrupt.pressed
    ends = began + request.effort_s
    return lambda: interrupt.pressed or monotonic() >= ends


def _report(began: float) -> Callable[[Progress], None]:
    """Return a listener that tells stderr of every better plan and bound."""
    shown: list[tuple[int, int]] = []

    def report(progress: Progress) -> None:
        now = (progress.planks, progress.lower_bound)
        if now not in shown:
            shown.append(now)
            seconds = monotonic() - began
            text = f"{seconds:.1f} s: {progress.planks} planks, bound {progress.lower_bound}"
            print(text, file=sys.stderr)

    return report


def _check(options: argparse.Namespace) -> int:
    """Judge any plan against its request."""
    from layout.judge.check import check_plan
    from layout.values.plan_form import read_plan
    from layout.values.request import read_request

    request = _read(options.request, read_request)
    plan = _read(options.plan, read_plan)
    faults = check_plan(request, plan)
    _write(None, "".join(f"{' '.join(str(fault).split())}\n" for fault in faults))
    print(f"{len(faults)} faults in {len(plan.pieces)} pieces", file=sys.stderr)
    return FAULTS if faults else DONE


def _draw(options: argparse.Namespace) -> int:
    """Draw a plan, or the casing template of one piece at true size."""
    from layout.drawing.plan import draw_plan
    from layout.values.plan_form import read_plan
    from layout.values.request import read_request

    request = _read(options.request, read_request)
    plan = _read(options.plan, read_plan)
    if options.casing is None:
        _write(options.output, draw_plan(request, plan))
        return DONE
    from layout.cutsheet.sheet import cut_sheet
    from layout.drawing.casing_template import draw_casing_template

    sheets = draw_casing_template(request, plan, cut_sheet(request, plan), options.casing)
    if options.output is None and len(sheets) > 1:
        text = f"--casing {options.casing}: {len(sheets)} sheets; accepted: -o FILE.svg for them"
        raise UnreadableError(text)
    for number, sheet in enumerate(sheets, start=1):
        _write(_numbered(options.output, number), sheet)
    return DONE


def _numbered(path: Path | None, number: int) -> Path | None:
    """Return the file of one sheet: X.svg, X-2.svg, X-3.svg."""
    if path is None or number == 1:
        return path
    return path.with_name(f"{path.stem}-{number}{path.suffix}")


def _sheet(options: argparse.Namespace) -> int:
    """Write the cuts of each plank of any plan, in the order in which they are made."""
    from layout.cutsheet.sheet import cut_sheet
    from layout.values.plan_form import read_plan
    from layout.values.request import read_request
    from layout.values.sheet import sheet_to_json

    request = _read(options.request, read_request)
    plan = _read(options.plan, read_plan)
    _foresee(options.output)
    sheet = sheet_to_json(cut_sheet(request, plan))
    _write(options.output, json.dumps(sheet, ensure_ascii=False) + "\n")
    return DONE


def _trim(options: argparse.Namespace) -> int:
    """Cut trim from stock lengths."""
    from layout.trim.form import cut_list_to_json, read_trim
    from layout.trim.plan_cuts import plan_cuts

    began = monotonic()
    request = _read(options.request, read_trim)
    ends = began + request.effort_s
    with _Interrupt() as interrupt:
        cuts = plan_cuts(
            request,
            stop=lambda: interrupt.pressed or monotonic() >= ends,
            left=lambda: ends - monotonic(),
        )
    _write(options.output, json.dumps(cut_list_to_json(cuts), ensure_ascii=False) + "\n")
    return DONE


def _read(path: Path, reader: Callable[[object], Read]) -> Read:
    """Return what ``reader`` makes of a JSON file. Raises UnreadableError, InputError."""
    try:
        with path.open("rb") as file:
            content = file.read(_MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise UnreadableError(f"{path}: can't be read ({_reason(error)})") from error
    if len(content) > _MOST_BYTES:
        text = f"{path}: larger than {_MOST_BYTES} bytes; accepted: the interchange form"
        raise UnreadableError(text)
    try:
        data = json.loads(content, object_pairs_hook=_once)
    except ValueError as error:
        text = f"{path}: is no JSON ({error}); accepted: one JSON object in UTF-8"
        raise UnreadableError(text) from error
    return reader(data)


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    """Return an object, refusing a field that stands twice in it."""
    fields = dict(pairs)
    if len(fields) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        text = f"the field {twice[:60]!r} stands twice in one object"
        raise ValueError(text)
    return fields


def _foresee(path: Path | None) -> None:
    """Refuse an output file that can't be written before any work is spent on it."""
    if path is not None and (path.is_dir() or not path.parent.is_dir()):
        text = f"{path}: can't be written; accepted: a file in a folder that exists"
        raise UnreadableError(text)


def _write(path: Path | None, text: str) -> None:
    """Write a whole result to stdout or to a file; a file appears complete or not at all."""
    content = text.encode()
    if path is None:
        sys.stdout.buffer.write(content)
        sys.stdout.buffer.flush()
        return
    try:
        if path.exists() and not path.is_file():
            path.write_bytes(content)  # a device or pipe: nothing to replace
            return
        part = path.with_name(f".{path.name[:200]}.{os.getpid()}.part")
        try:
            part.write_bytes(content)
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        raise UnreadableError(f"{path}: can't be written ({_reason(error)})") from error


def _reason(error: Exception) -> str:
    """Return why a file could not be used, without its name."""
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


if __name__ == "__main__":
    sys.exit(main())
