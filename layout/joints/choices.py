"""What each run of a floor may do: starter, whole boards, ender; which choices clash.

A run of length R is starter s + whole boards + ender e; s fixes the rest. Its joints stand at
one *phase* (joint position modulo the board length), so the offset between two touching runs is
the distance of their phases round the circle.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from layout.rows.contacts import Contact
from layout.rows.runs import Run
from layout.values.request import PlanRequest
from layout.values.tolerances import COUNT_TOLERANCE, LAID_END_TOLERANCE, TOUCHING_TOLERANCE

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Span = tuple[float, float]
Pick = tuple[float, float]  # starter and ender of one run

TICK = {"in": 0.25, "mm": 5.0}
NEVER = 1e9  # the starter or ender that a run in one piece does not have


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What joints must keep: board length and the rules that bear on it, in one unit.

    ``tick`` is the step of lengths drawn at random, so that they can be read off a tape.
    """

    length: float
    kerf: float
    least_end: float
    least_offset: float
    wall_error: float = 0.0
    tick: float = 0.25

    @classmethod
    def of(cls, request: PlanRequest) -> Terms:
        """Return the terms of a request: its board length under its laying rules."""
        rules, length = request.rules, request.product.board.length
        return cls(
            length=length,
            kerf=rules.saw_kerf,
            least_end=rules.min_end_piece,
            least_offset=rules.min_joint_offset,
            wall_error=rules.wall_error,
            tick=min(TICK[request.unit], length / 2),
        )

    def room(self, ender: float) -> float:
        """Return the longest starter that the leftover of an ender gives."""
        return self.length - self.kerf - self.wall_error - ender

    def rooms(self, enders: Floats) -> Floats:
        """Return the longest starters that the leftovers of enders give."""
        return self.length - self.kerf - self.wall_error - enders


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """A run, where no joint of it may fall, and the posts that a joint must pass through.

    ``kept_off`` are stretches too close to joints that are down; ``begun`` and ``ended`` tell
    whether a laid piece lies at the left and right end, so that a factory end must meet it.
    ``eased`` are the terms it keeps where all can't be kept.
    """

    run: Run
    barred: tuple[Span, ...] = ()
    posts: tuple[Span, ...] = ()
    kept_off: tuple[Span, ...] = ()
    begun: bool = False
    ended: bool = False
    eased: Terms | None = None

    @property
    def tied(self) -> bool:
        """Whether a laid piece fixes the joints."""
        return self.begun or self.ended


@dataclass(frozen=True, slots=True, kw_only=True)
class AtHand:
    """Leftovers at hand: the starters (``rooms``) and the enders (``rests``) they can give."""

    rooms: tuple[float, ...] = ()
    rests: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What one run may do, an entry a choice: starter, ender, pieces in all, phase of its joints.

    A run in one piece has a phase of nan. It is listed twice, in the place of a starter and of an
    ender, since it needs no factory end. ``faults`` counts the rules of ends, doorways and posts
    that a choice breaks.
    """

    starter: Floats
    ender: Floats
    pieces: Floats
    phase: Floats
    faults: Floats

    def __len__(self) -> int:
        return len(self.starter)

    def kept(self, which: Bools) -> Choices:
        """Return the choices named."""
        return Choices(
            starter=self.starter[which],
            ender=self.ender[which],
            pieces=self.pieces[which],
            phase=self.phase[which],
            faults=self.faults[which],
        )

    def nearest(self, pick: Pick) -> int:
        """Return the choice that comes nearest to a pick."""
        off = np.abs(self.starter - pick[0]) + np.abs(self.ender - pick[1])
        return int(np.argmin(off))

    def pick(self, choice: int) -> Pick:
        """Return starter and ender of a choice."""
        return float(self.starter[choice]), float(self.ender[choice])


def choices_of(
    site: Site, terms: Terms, phases: Iterable[float], *, limits: bool = True
) -> Choices:
    """Return the choices of a run at ``phases`` and at its own ``limits``: with fewest faults."""
    terms = site.eased or terms
    run, length = site.run, terms.length
    if site.tied:
        starter = _tied(site, length)
    else:
        starter = _starters(site, terms, phases, _limits(site, terms) if limits else [])
    whole = np.maximum(0, np.ceil((run.length - starter) / length - 1 - COUNT_TOLERANCE))
    ender = run.length - starter - whole * length
    joined = Choices(
        starter=starter,
        ender=ender,
        pieces=whole + 2,
        phase=(run.x0 + starter) % length,
        faults=_faults(site, terms, starter, ender),
    )
    every = _with_single(joined, site, terms)
    return every.kept(every.faults <= every.faults.min())


def _starters(site: Site, terms: Terms, phases: Iterable[float], limits: Sequence[float]) -> Floats:
    """Return starters to look at, from phases and limits, sorted."""
    run, length = site.run, terms.length
    starters = np.concatenate([np.asarray(list(phases), dtype=float) - run.x0, np.array(limits)])
    starters = starters % length
    starters[starters < TOUCHING_TOLERANCE] = length
    starters = np.unique(np.round(starters, 6))
    inside: Floats = starters[starters < run.length - TOUCHING_TOLERANCE]
    return inside


def _limits(site: Site, terms: Terms) -> list[float]:
    """Return the starters at which a run comes up against its ends, doorways and posts."""
    run = site.run
    far = terms.least_end + terms.wall_error
    limits = [terms.least_end, terms.length, run.length - far, run.length + terms.wall_error, far]
    marks = [run.length / 2, run.length - terms.least_end]
    for limit in limits:
        marks += [limit + way * terms.least_offset for way in (-2, -1, 0, 1, 2)]
    for u, v in (*site.barred, *site.posts):
        marks += [u - run.x0, v - run.x0, (u + v) / 2 - run.x0]
    return marks


def _tied(site: Site, length: float) -> Floats:
    """Return the one starter of a run that a laid piece ties, none where it is one piece."""
    run = site.run
    starter = length if site.begun else run.length % length
    starter = length if starter < TOUCHING_TOLERANCE else starter
    return np.array([starter] if starter < run.length - TOUCHING_TOLERANCE else [])


def _faults(site: Site, terms: Terms, starter: Floats, ender: Floats) -> Floats:
    """Return how many rules of ends, doorways and posts each starter breaks."""
    run, length, slack = site.run, terms.length, terms.wall_error
    faults = np.zeros(len(starter))
    short = LAID_END_TOLERANCE if site.tied else TOUCHING_TOLERANCE
    if not site.begun:
        faults += starter < terms.least_end - short
    if not site.ended:
        faults += ender < terms.least_end + slack - short
        faults += ender > length - slack + TOUCHING_TOLERANCE
    for u, v in (*site.barred, *site.kept_off):
        faults += _joint_within(
            run.x0 + starter, run, length, (u + TOUCHING_TOLERANCE, v - TOUCHING_TOLERANCE)
        )
    for u, v in site.posts:
        inset = min(0.01 * length, (v - u) / 4)
        faults += ~_joint_within(run.x0 + starter, run, length, (u + inset, v - inset))
    return faults


def _joint_within(first: Floats, run: Run, length: float, span: Span) -> Bools:
    """Whether some joint falls within a span; ``first`` are the first joints' places."""
    u, v = span
    at = first + np.maximum(0, np.ceil((u - first) / length)) * length
    within: Bools = (at <= v) & (at < run.x1 - TOUCHING_TOLERANCE)
    return within


def _with_single(choices: Choices, site: Site, terms: Terms) -> Choices:
    """Return the choices with those of laying the run in one piece, where a board is as long."""
    length = site.run.length
    slack = 0.0 if site.ended else terms.wall_error
    if length > terms.length - slack + TOUCHING_TOLERANCE:
        return choices
    roles = [
        pick
        for pick, barred in (
            ((length + slack, NEVER), site.begun),
            ((NEVER, length), site.ended and not site.begun),
        )
        if not barred
    ]
    short = site.tied and length < terms.least_end - LAID_END_TOLERANCE
    faults = float(len(site.posts) + short)
    return Choices(
        starter=np.concatenate([choices.starter, [starter for starter, _ in roles]]),
        ender=np.concatenate([choices.ender, [ender for _, ender in roles]]),
        pieces=np.concatenate([choices.pieces, np.ones(len(roles))]),
        phase=np.concatenate([choices.phase, np.full(len(roles), np.nan)]),
        faults=np.concatenate([choices.faults, np.full(len(roles), faults)]),
    )


def joints_at(run: Run, starter: float, length: float) -> tuple[float, ...]:
    """Return the joint positions of a run begun with ``starter``, left to right."""
    joints: list[float] = []
    at = run.x0 + starter
    while at < run.x1 - TOUCHING_TOLERANCE:
        joints.append(at)
        at = run.x0 + starter + len(joints) * length
    return tuple(joints)


def terms_between(low: Site, high: Site, terms: Terms) -> Terms:
    """Return what joints of two touching runs keep: of eased ones the lesser offset."""
    return min((site.eased or terms for site in (low, high)), key=lambda kept: kept.least_offset)


def clashes(low: Choices, high: Choices, contact: Contact, terms: Terms) -> Bools:
    """Return which choices of two touching runs bring joints closer than the least offset."""
    a, b = low.phase[:, None], high.phase[None, :]
    length, offset = terms.length, terms.least_offset - TOUCHING_TOLERANCE
    step = (b - a + length / 2) % length - length / 2
    close: Bools = np.abs(step) < offset
    if all(v - u >= length + offset for u, v in contact.stretches):
        return close
    meets = np.zeros(close.shape, dtype=bool)
    for u, v in contact.stretches:
        first = np.maximum(u, u - step) - TOUCHING_TOLERANCE
        last = np.minimum(v, v - step) + TOUCHING_TOLERANCE
        meets |= first + (a - first) % length <= last
    return meets & close
