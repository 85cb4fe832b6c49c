"""One day, half hour by half hour: who takes which step, and how far it comes.

Whoever is at a step stays with it until it is done. Somebody free takes the first step in the order
of the trade that is ready, has room for one more and that they may do; a step for two begins when
two are free, and keeps both.
"""

from collections.abc import Callable, Mapping, Sequence

from jobs.domain.schedule.bench.bench import WorkBench
from jobs.domain.schedule.bench.hands import fewest, let_go
from jobs.domain.schedule.bench.old_floor import comes_out_today
from jobs.domain.schedule.bench.spells import spells_from
from jobs.domain.schedule.bench.values import DayRules, WorkSpell
from jobs.domain.schedule.bench.wet import halves_to_pour, torn_beside
from jobs.domain.schedule.halves import QUARTERS_A_HALF
from jobs.domain.schedule.step import Step
from jobs.domain.schedule.trade import phase_of

PRESSING_HALVES = 6
"""In the last three hours of a day people come from another story too to get leveler poured."""


def work(bench: WorkBench, rules: DayRules) -> list[WorkSpell]:
    """Work one day on the bench by these rules; return who was at what, in order of beginning."""
    day = HalfHours(bench, rules)
    for half in range(max(rules.halves, default=0)):
        day.half(half)
    return day.spells()


class HalfHours:
    """A day in the making: who is at which step, and what was done so far."""

    def __init__(self, bench: WorkBench, rules: DayRules) -> None:
        self.bench, self.rules = bench, rules
        self.at: dict[int, str] = {}
        self.story: dict[int, str] = {}
        self.wet, self.soon = set[str](), set[str]()
        self.made: list[tuple[int, str, int]] = []
        self.ready: list[str] = []
        named = dict.fromkeys((*rules.first, *rules.begun))
        first = {key: place for place, key in enumerate(named)}
        undone = [key for key in bench.order if bench.progress[key].done_at is None]
        self.order = sorted(undone, key=lambda key: first.get(key, len(first)))
        self.pressing = [key for key in self.order if key in rules.first]
        self.pours: dict[str, list[str]] = {}
        for key in undone:
            if key in bench.pours:
                self.pours.setdefault(bench.steps[key].task.zone, []).append(key)
        self.levelers = [key for key in self.order if bench.steps[key].task.code == "level"]

    def half(self, number: int) -> None:
        """Work one half hour."""
        now = self.rules.opens + number * QUARTERS_A_HALF
        left = max(self.rules.halves) - number
        self.bench.settle(now)
        here = [person for person, most in enumerate(self.rules.halves) if number < most]
        teams = self._stay(here, now)
        free = [person for person in here if person not in self.at]
        runs = self.bench.truck.runs if self._has_left(now) else ()
        if due := [key for key in runs if self._is_due(key, now)]:
            free = self._called_away(free, teams, now, due, at_once=True)
        late = left <= PRESSING_HALVES
        free = self._pour(free, teams, now, late=late)
        if pressing := self._pressing(here, now):
            free = self._called_away(free, teams, now, pressing, at_once=True)
        if short := [key for key in self.levelers if self._needs_more(key, teams, now, left)]:
            free = self._called_away(free, teams, now, short, at_once=True)
        for story in self.pours:
            free = self._called_away(free, teams, now, self.pours[story], "" if late else story)
        if free:
            self._join(free, teams, now)
        then = now + QUARTERS_A_HALF
        for key, team in teams.items():
            left = self._left(key, now)
            self.bench.advance(key, min(len(team), left), then)
            self.made += [(person, key, now) for person in team]
            self.story |= dict.fromkeys(team, self.bench.steps[key].task.zone)
        self.bench.settle(then)

    def _pour(
        self, free: list[int], teams: dict[str, list[int]], now: int, *, late: bool
    ) -> list[int]:
        """Pour what is ready for it; nobody tears out beside wet leveler on its story.

        Who tears out a room there finishes it first, unless it is `late`; no other is begun.
        """
        self.wet, self.soon = set(), set()
        ready = [k for k in self.levelers if self._may_begin(k, now) and self._left(k, now) > 0]
        for key in ready:
            story = self.bench.steps[key].task.zone
            if not late and not self.bench.progress[key].done and self._tears_out(teams, story):
                self.soon.add(story)
            else:
                free = self._called_away(free, teams, now, [key], story, at_once=True)
        self.wet = {self.bench.steps[k].task.zone for k in teams if k in self.levelers}
        for key in [k for k in teams if self._is_in_the_wet(k)]:
            for person in teams.pop(key):
                del self.at[person]
                free = sorted((*free, person))
        return free

    def _tears_out(self, teams: Mapping[str, Sequence[int]], story: str) -> bool:
        steps = (self.bench.steps[key] for key in teams)
        return any((step.task.code, step.task.zone) == ("tear_out", story) for step in steps)

    def _is_in_the_wet(self, key: str) -> bool:
        """Whether old floor would come out beside leveler: one of them is not begun then."""
        step, begun = self.bench.steps[key], self.bench.progress[key].done
        if step.task.code not in ("tear_out", "level"):
            return False
        soon = step.task.zone in self.soon and not begun
        return soon or (step.task.code == "tear_out" and step.task.zone in self.wet)

    def _pressing(self, here: Sequence[int], now: int) -> list[str]:
        """Return what goes before all: who is alone pours before the run with today's load."""
        if len(here) > 1 or self._has_left(now):
            return self.pressing
        pours = [key for keys in self.pours.values() for key in keys]
        ready = [key for key in pours if self._is_open(key) and self._may_begin(key, now)]
        if not ready:
            return self.pressing
        of_today = [key for key in self.pressing if self._is_of_today(key)]
        return [*ready, *self.pressing] if of_today else self.pressing

    def _is_open(self, key: str) -> bool:
        return self.bench.progress[key].done_at is None

    def _is_due(self, key: str, now: int) -> bool:
        """Whether a run to the dump leaves at the latest: who is at other work is called to it."""
        return self._is_open(key) and self._may_begin(key, now)

    def _is_of_today(self, key: str) -> bool:
        """Whether it is a run to the dump with a load that came out today."""
        ready = self.bench.ready_at(key)
        is_run = self.bench.steps[key].task.code == "dump_run"
        return is_run and ready is not None and ready > self.rules.opens

    def _needs_more(
        self, key: str, teams: Mapping[str, Sequence[int]], now: int, left: int
    ) -> bool:
        """Whether leveler is poured by the end of the day only if more people come to it."""
        if self.bench.progress[key].done_at is not None or not self._may_begin(key, now):
            return False
        return self._left(key, now) > left * max(1, len(teams.get(key, ())))

    def _left(self, key: str, now: int) -> int:
        if key in self.bench.truck.old_floor and self._has_left(now):
            return 0
        return self.bench.room_for(key, now, self.rules.caps.get(key))

    def _stay(self, here: Sequence[int], now: int) -> dict[str, list[int]]:
        """Return by step those who stay with what they were at."""
        teams: dict[str, list[int]] = {}
        for person, key in list(self.at.items()):
            left = self._left(key, now) if person in here else 0
            together = self.bench.steps[key].people > 1
            taken = len(teams.get(key, ()))
            if left > taken or (left > 0 and together):
                teams.setdefault(key, []).append(person)
            else:
                del self.at[person]
        return teams

    def _called_away(
        self,
        free: Sequence[int],
        teams: dict[str, list[int]],
        now: int,
        keys: Sequence[str],
        story: str = "",
        *,
        at_once: bool = False,
    ) -> list[int]:
        """Let people, of one `story` where it is given, leave what can wait for what can't.

        Return who is still free. Who carries something with another stays, and who tears out does
        so only `at_once`.
        """
        steps = self.bench.steps
        was = {
            person: key
            for person, key in self.at.items()
            if key not in self.pressing or keys[0] in self.bench.truck.runs
            if key not in self.bench.truck.runs
            if steps[key].people == 1
            if key not in keys
            if at_once or phase_of(steps[key].task.code, steps[key].part)
            if steps[key].task.zone == story or not story
        }
        pool = sorted((*free, *was))
        self._take(pool, teams, now, self.bench.able, keys)
        for person, key in was.items():
            if person not in pool:
                teams[key].remove(person)
                if not teams[key]:
                    del teams[key]
        return [person for person in pool if person not in was]

    def _join(self, free: list[int], teams: dict[str, list[int]], now: int) -> None:
        """Put everybody who is free to the first step that takes them.

        Beside helpers installers leave helpers' tasks alone while they have something of their own.
        """
        people = self.bench.people
        self.ready = [key for key in self.order if self._is_open(key) and self._is_ready(key, now)]
        if any(person.helper for person in people):
            helpers = {number for number, person in enumerate(people) if person.helper}
            suited = lambda one, step: (one in helpers) == step.task.helper  # noqa: E731
            self._take(free, teams, now, suited, self.ready)
        fresh = [*free]
        self._take(free, teams, now, self.bench.able, self.ready)
        if free:
            self._pair_up(free, [one for one in fresh if one not in free], teams, now)

    def _pair_up(
        self, free: list[int], fresh: Sequence[int], teams: dict[str, list[int]], now: int
    ) -> None:
        """Let who just began something alone carry with who would have nothing to do."""
        movable = [one for one in fresh if self._is_movable(one)]
        for key in self.ready:
            step = self.bench.steps[key]
            if step.people < 2 or key in teams or not self._may_begin(key, now):
                continue
            pair = [one for one in (*free, *movable) if self.bench.able(one, step)]
            pair = pair[: min(step.people, self._hands(step))]
            if self._left(key, now) <= 0 or len(pair) < 2 or pair[0] not in free:
                continue
            for one in pair:
                let_go(one, self.at.get(one, ""), free, teams)
                self.at[one] = key
            teams[key] = pair
            return

    def _is_movable(self, person: int) -> bool:
        """Whether somebody may leave what they just began: nobody waits for it, or carries it."""
        key = self.at[person]
        waited_for = key in self.pressing or key in self.bench.before_pours
        return self.bench.steps[key].people == 1 and not waited_for

    def _take(
        self,
        free: list[int],
        teams: dict[str, list[int]],
        now: int,
        takes: Callable[[int, Step], bool],
        keys: Sequence[str],
    ) -> None:
        for key in keys:
            if not free:
                return
            if self.bench.progress[key].done_at is not None or not self._may_begin(key, now):
                continue
            step, left = self.bench.steps[key], self._left(key, now)
            able = [one for one in free if takes(one, step) and self.bench.able(one, step)]
            if keys is self.ready:
                able = [one for one in able if not self._has_nearer(one, step, teams, now)]
            team = teams.get(key, [])
            at_once = min(step.people, self._hands(step))
            if left <= 0 or not able or (not team and len(able) < at_once):
                continue
            hands = min(step.most, left, len(team) + len(able))
            most = max(fewest(hands, left, step), at_once) - len(team)
            if step.task.helper:  # the lead stays with what is the lead's
                able.reverse()
            for one in able[: max(0, most)]:
                person = self._instead(one, step, teams)
                teams.setdefault(key, []).append(person)
                self.at[person] = key
                free.remove(one)

    def _instead(self, person: int, step: Step, teams: dict[str, list[int]]) -> int:
        """Return who does a step: who lays drives to the dump, and the lead takes over the rows."""
        if person or step.task.code != "dump_run":
            return person
        for key, team in teams.items():
            other = next((one for one in team if self.bench.able(one, step)), None)
            if other and self.bench.steps[key].task.code == "lay":
                team[team.index(other)] = person
                self.at[person] = key
                return other
        return person

    def _has_nearer(
        self, person: int, step: Step, teams: Mapping[str, Sequence[int]], now: int
    ) -> bool:
        """Whether somebody finds work of the same phase on the story where they are."""
        story = self.story.get(person)
        if not story or not step.task.zone or story == step.task.zone:
            return False
        phase = phase_of(step.task.code, step.part)
        if not phase:  # what makes dust goes story by story
            return False
        for key in self.ready:
            other = self.bench.steps[key]
            if other.task.zone != story or phase_of(other.task.code, other.part) != phase:
                continue
            if other.people > 1 or not self.bench.able(person, other):
                continue
            if self._may_begin(key, now):
                room = min(other.most, self._left(key, now)) - len(teams.get(key, ()))
                if room > 0:
                    return True
        return False

    def _hands(self, step: Step) -> int:
        """How many of the crew who are here today may do it at all."""
        here = [person for person, most in enumerate(self.rules.halves) if most]
        return max(1, sum(self.bench.able(person, step) for person in here))

    def _has_left(self, now: int) -> bool:
        """Whether it is time for the truck to leave with what came out today."""
        return now >= self.rules.opens + self.rules.leaves * QUARTERS_A_HALF

    def _leaves(self, key: str, now: int) -> bool:
        """Whether a run to the dump leaves: no more old floor comes out today, or it is full.

        What stood on the truck overnight is driven off first.
        """
        truck, load = self.bench.truck, self.bench.steps[key].load
        if truck.out_at <= self.rules.opens or self._has_left(now):
            return True
        if self.rules.by_load and truck.out * len(truck.runs) >= load * truck.all_of_it:
            return True
        return not any(comes_out_today(one, self.bench, self.rules) for one in truck.old_floor)

    def _is_ready(self, key: str, now: int) -> bool:
        room, moment = self.bench.guarded.get(key), self.bench.ready_at(key)
        return (room is None or room in self.rules.rooms) and moment is not None and moment <= now

    def _may_begin(self, key: str, now: int) -> bool:
        if not self._is_ready(key, now) or self._waits_for_dust(key, now):
            return False
        if (self.wet or self.soon) and self._is_in_the_wet(key):
            return False
        return key not in self.bench.truck.runs or self._leaves(key, now)

    def _waits_for_dust(self, key: str, now: int) -> bool:
        """Whether leveler waits until no more old floor comes out on its story today."""
        if not self.rules.pours_last or key not in self.levelers or self.bench.progress[key].done:
            return False
        dust = torn_beside(self.bench.steps[key], self.bench, self.order)
        takes = halves_to_pour(self.bench.steps[key], self.bench, self.levelers, self._hands)
        last = self.rules.opens + (max(self.rules.halves) - takes - 1) * QUARTERS_A_HALF
        return now < last and any(self._may_begin(k, now) and self._left(k, now) > 0 for k in dust)

    def spells(self) -> list[WorkSpell]:
        """Return the day's half hours, those of one person at one step put together."""
        return spells_from(self.made)
