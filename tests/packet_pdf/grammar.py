"""The words of a strip, all in one table: what a person makes of them.

A line of words is read with its cut numbers in brackets, ``(1) 24⅛``, and
letters of stacks in square ones, ``[A] 4-3``.
"""

from __future__ import annotations

import re

FIGURE = "[\\d½¼¾⅛⅜⅝⅞⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉\u2044]+"
NAME = r"\d+-\d+"
_RUN = rf"{NAME}(?: to {NAME})?"
_NUMBER = r"(?:\((?P<n>\d+)\) )?"

# Over the strip and right under it, in large figures.
RIP_ALL = re.compile(
    rf"{_NUMBER}rip (?P<each>all|each) (?:to (?P<stays>{FIGURE}) from|(?P<off>{FIGURE}) off) the "
    rf"(?P<edge>near|far) edge(?:, not (?P<but>{NAME}(?: and {NAME})*))?(?P<last>, last)?"
)
LABEL = re.compile(
    rf"(?:(?P<name>{NAME}): )?{_NUMBER}(?:"
    rf"rip (?:to (?P<stays>{FIGURE}) from|(?P<off>{FIGURE}) off) the (?P<edge>near|far) edge"
    rf"|(?P<corner>left|right) corner"
    rf"|(?P<figure>{FIGURE})(?: (?P<how>from|off) (?P<end>left|right))?(?= |$))"
)
# Beside the strip.
_STOP = rf"stop, (?:joints {FIGURE} apart|[a-z ]+)"
WALL = re.compile(
    rf"(?:(?P<notch>{NAME}) (?:notch, )?)?(?:(?P<begin>row \d+|mark \d+|start wall) )?"
    rf"to (?:the )?(?P<stop>[a-z ]+?) (?P<to_wall>{FIGURE}) "
    rf"{_NUMBER}(?P<what>cut|expect|rip|stays) (?P<cut>{FIGURE})"
)
LESS = re.compile(
    rf"less (?P<gap>{FIGURE}) =(?! row)(?: from (?P<base>near edge|far edge|left end|right end))?"
)
LIMITS = re.compile(
    rf"(?P<name>{NAME}|row \d+) (?:(?P<least>{FIGURE}) to (?P<most>{FIGURE})"
    rf"|to (?P<top>{FIGURE})|just (?P<only>{FIGURE})); "
    rf"over: (?P<over>cut it, (?P<new>{NAME}(?: and {NAME})*) new"
    rf"|row up, (?:cut )?{NAME} (?:new )?(?:to )?{FIGURE}|a new plank|{_STOP}"
    rf"|(?:{_RUN}(?:, {_RUN})*(?: and {_RUN})?|\d+ narrow ones) new)"
)
UNDER = re.compile(
    rf"under (?P<least>{FIGURE}): "
    rf"(?P<under>row up, (?:cut )?{NAME} (?:new )?to {FIGURE}, (?:lay again|no {NAME})|{_STOP})"
)
# Under the strip.
SOURCE = re.compile(
    rf"(?:\[(?P<stack>[A-Z]+)\] (?P<stacked>{NAME})|(?P<name>{NAME}) (?P<what>new|in hand|on hand)"
    rf"|(?P<again>{NAME})(?= (?:\(\d+\) )?leaves))(?P<kind>(?: {FIGURE} wide)?"
    rf"(?: (?!leaves|notched)[A-Za-z]+)*)"
    rf"(?P<notched> notched)?(?P<rests>(?: (?:\(\d+\) )?leaves {FIGURE}(?: [x×] {FIGURE})?"
    rf"(?: at most)? (?:to \[[A-Z]+\]|for) {NAME})*)(?= |$)"
)
REST = re.compile(
    rf" {_NUMBER}leaves (?P<long>{FIGURE})(?: [x×] (?P<wide>{FIGURE}))?(?P<most> at most)? "
    rf"(?:to \[(?P<stack>[A-Z]+)\]|for) (?P<name>{NAME})"
)
