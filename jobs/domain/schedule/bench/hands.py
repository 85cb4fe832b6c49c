"""How many take a hand in a step, and how somebody leaves one."""

from jobs.domain.schedule.step import Step

MANY_HANDS = frozenset({"load", "setup", "carry", "clean"})
"""What more people take a hand in only where it is done sooner by it."""


def fewest(most: int, left: int, step: Step) -> int:
    """Return how many have a step done as soon as `most` would: three carry no faster than two."""
    if step.task.code not in MANY_HANDS or not left:
        return most
    rounds = -(-left // most)
    return -(-left // rounds)


def let_go(person: int, key: str, free: list[int], teams: dict[str, list[int]]) -> None:
    """Take somebody from those who are free, or from the step they were at."""
    if person in free:
        free.remove(person)
        return
    teams[key].remove(person)
    if not teams[key]:
        del teams[key]
