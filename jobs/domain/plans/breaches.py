"""Where a plan breaks rules, each rule said once with its rows and how far off it is. Pure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from jobs.domain.lengths import core_length_words
from layout.values.plan import Plan, RuleWarning

_SENTENCES = {
    "min_end_piece": "End pieces as short as {value}; the rule asks for {limit}.",
    "min_joint_offset": "End joints of touching rows as close as {value}; the rule asks for "
    "{limit}.",
    "min_row_width": "As narrow as {value}; the rule asks for {limit}.",
    "no_joints": "End joints in a place where none may fall.",
    "wall_error": "As little as {value} is kept where {limit} is asked for, if the wall stands off "
    "as far as it may.",
}
_START = "start"  # a proposal, no rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Breach:
    """A rule that the shape of a floor breaks: the rows it is broken in, and how far off it is."""

    where: str
    text: str


def breaches_of(plan: Plan) -> list[Breach]:
    """Return what a plan warns of; what one rule says of several places said once.

    The worst figure of all places stands for them. What a rule asks for in two ways, such as a
    last piece's least size and its plank's rest, is said twice.
    """
    kinds: dict[tuple[str, float], list[RuleWarning]] = {}
    for number, warning in enumerate(plan.warnings):
        if warning.rule != _START:
            alone = warning.rule not in _SENTENCES
            key = (f"{warning.rule} {number}" if alone else warning.rule, warning.limit)
            kinds.setdefault(key, []).append(warning)
    return [_breach(warnings, plan.unit) for warnings in kinds.values()]


def _breach(warnings: Sequence[RuleWarning], unit: str) -> Breach:
    """Return what warnings of one rule and limit come to."""
    first = warnings[0]
    if len(warnings) == 1:
        return Breach(where=first.where, text=first.text)
    value = core_length_words(min(warning.value for warning in warnings), unit)
    limit = core_length_words(first.limit, unit)
    rows = sorted({int(row) for one in warnings for row in re.findall(r"\d+", one.where)})
    text = _SENTENCES[first.rule].format(value=value, limit=limit)
    return Breach(where=f"{'rows' if len(rows) > 1 else 'row'} {_in_spans(rows)}", text=text)


def _in_spans(rows: Sequence[int]) -> str:
    """Return rising numbers in words: 1 to 4, 6, 8 to 9."""
    spans: list[list[int]] = []
    for row in rows:
        if spans and row == spans[-1][-1] + 1:
            spans[-1].append(row)
        else:
            spans.append([row])
    return ", ".join(f"{s[0]} to {s[-1]}" if len(s) > 1 else f"{s[0]}" for s in spans)
