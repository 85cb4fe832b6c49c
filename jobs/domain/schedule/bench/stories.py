"""How a crew goes through a house story by story: who changes often, where tear-out goes back."""

from collections.abc import Mapping, Sequence
from itertools import groupby, pairwise

from jobs.domain.schedule.bench.worked import WorkedDay
from jobs.domain.schedule.step import Step


def turns(day: WorkedDay, story: Mapping[str, str]) -> int:
    """Return how often whoever changes most changes the story on a day."""
    most = 0
    for person in {spell.person for spell in day.spells}:
        spells = sorted((s for s in day.spells if s.person == person), key=lambda s: s.begins)
        stories = [story[spell.key] for spell in spells if story[spell.key]]
        most = max(most, sum(one != other for one, other in pairwise(stories)))
    return most


def goes_back(days: Sequence[WorkedDay], steps: Sequence[Step]) -> bool:
    """Whether tear-out goes back to a story that was left for another's, but in rooms lived in."""
    torn = {s.key: s.task.zone for s in steps if s.task.code == "tear_out" and not s.use}
    mostly: list[str] = []
    for day in days:
        spent: dict[str, int] = {}
        for spell in day.spells:
            if spell.key in torn:
                story = torn[spell.key]
                spent[story] = spent.get(story, 0) + spell.ends - spell.begins
        if spent:
            mostly.append(max(spent, key=spent.__getitem__))
    stories = [story for story, _ in groupby(mostly)]
    return len(stories) > len(set(stories))
