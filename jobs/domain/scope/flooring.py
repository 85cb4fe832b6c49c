"""Flooring by job and product: the planks of all its floors and stairs together, rounded up once.

Spares are planks and are counted once for the job, the sum of what its floors ask for. A carton
for the attic is one for a product, whichever of its floors wants it. Floors of one product are
bought as one lot.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.checks import ZERO
from jobs.domain.quantities import PLANNED, Quantity, quantity
from jobs.domain.scope.inputs import JobTake, ProductTake, StairTake, ZoneTake
from jobs.domain.scope.rules import (
    TakeoffRules,
    cartons_by_ten_percent,
    cartons_for,
    in_ft2,
    in_percent,
    stair_planks,
)

Board = tuple[str, Decimal, Decimal, int]


@dataclass(frozen=True, kw_only=True, slots=True)
class ProductCount:
    """All floors and stairs of one product; `item` is what the product is called in this job."""

    item: str
    product: ProductTake
    zones: tuple[ZoneTake, ...]
    on_stairs: int = 0

    @property
    def planned(self) -> int:
        """Planks of the plans."""
        return sum(zone.plan.planks for zone in self.zones)

    @property
    def laid(self) -> int:
        """Planks of the plans and on the stairs."""
        return self.planned + self.on_stairs

    @property
    def spares(self) -> int:
        """Planks beyond what is laid, once for the job."""
        return sum(zone.spares for zone in self.zones)

    @property
    def on_hand(self) -> int:
        """Planks that other jobs left over: they are not bought."""
        return sum(zone.on_hand for zone in self.zones)

    @property
    def attic(self) -> int:
        """The carton for the attic: one where any floor wants it."""
        return int(any(zone.attic_carton for zone in self.zones))

    @property
    def cartons(self) -> int:
        """Cartons to buy."""
        return self._holding(self.laid + self.spares, self.on_hand) + self.attic

    @property
    def returnable(self) -> int:
        """Full cartons that stay shut where no spare is needed; the attic's is not returned."""
        return self.cartons - self.attic - self._holding(self.laid, self.on_hand)

    def _holding(self, planks: int, there: int) -> int:
        """Return the cartons that hold so many planks, and of each width what the plans take.

        `there` are planks of one width at hand; where a carton holds several, they count nothing.
        """
        if there and not self.product.widths:
            return cartons_for(max(planks - there, 0), self.product.per_carton)
        whole = cartons_for(planks, self.product.per_carton)
        if not self.product.widths or not all(zone.plan.by_width for zone in self.zones):
            return whole + sum(_short_of_a_width(zone) for zone in self.zones)
        taken = self._by_width()
        by_width = [cartons_for(taken[width], held) for width, held in self.product.widths]
        return max(whole, *by_width)

    def _by_width(self) -> Counter[Decimal]:
        """Return the planks of all plans by the product's width that each is nearest to."""
        taken: Counter[Decimal] = Counter()
        for width, planks in (pair for zone in self.zones for pair in zone.plan.by_width):
            near = min(
                (each for each, _ in self.product.widths), key=lambda each: abs(each - width)
            )
            taken[near] += planks
        return taken


def _short_of_a_width(zone: ZoneTake) -> int:
    """Return the cartons a plan takes beyond its planks, where one width runs out before others."""
    by_planks = cartons_for(zone.plan.planks + zone.spares, zone.product.per_carton)
    return max(0, zone.plan.cartons - by_planks)


def by_product(job: JobTake) -> tuple[ProductCount, ...]:
    """Return the floors and stairs of a job by the product they are laid with, in order."""
    return count_products(job.zones, job.stairs)


def count_products(
    floors: Iterable[ZoneTake], stairs: Sequence[StairTake] = ()
) -> tuple[ProductCount, ...]:
    """Return floors and stairs by the product they are laid with, in the order of the floors."""
    boards: dict[Board, list[ZoneTake]] = {}
    for zone in floors:
        boards.setdefault(_board_of(zone.product), []).append(zone)
    names = Counter(name for name, *_ in boards)
    return tuple(
        ProductCount(
            item=board[0] if names[board[0]] == 1 else _with_its_board(board),
            product=zones[0].product,
            zones=tuple(zones),
            on_stairs=sum(
                stair_planks(stair, zones[0].product) for stair in _stairs_of(zones, stairs)
            ),
        )
        for board, zones in boards.items()
    )


def flooring(count: ProductCount, rules: TakeoffRules) -> list[Quantity]:
    """Return planks and cartons of one product, and beside them what custom would have bought."""
    covers = count.product.carton_covers_in2
    area = sum((zone.area_in2 for zone in count.zones), ZERO)
    customary = cartons_by_ten_percent(area, covers, rules.customary_waste)
    customary_basis = (
        f"{in_ft2(area)} ft2 and {in_percent(rules.customary_waste)} more, "
        f"a carton covers {in_ft2(covers)} ft2"
    )
    back = f"{count.cartons} bought; {count.laid} planks are laid; what stays shut goes back"
    back += ", the attic's stays" if count.attic else ""
    item = count.item
    return [
        quantity("planks", count.planned, planks_words(count), source=PLANNED, item=item),
        quantity("cartons", count.cartons, cartons_basis(count), source=PLANNED, item=item),
        quantity("cartons_attic", count.attic, "stays with the client", item=item),
        quantity("cartons_by_ten_percent", customary, customary_basis, item=item),
        quantity("cartons_returnable", count.returnable, back, source=PLANNED, item=item),
    ]


def planks_words(count: ProductCount) -> str:
    """Return the planks of the plans in words, by floor where there are several."""
    if len(count.zones) == 1:
        return f"{count.planned} planks in the plan"
    floors = ", ".join(f"{zone.name} {zone.plan.planks}" for zone in count.zones)
    return f"{count.planned} planks in the plans ({floors})"


def cartons_basis(count: ProductCount) -> str:
    """Return how the cartons were got, in a sentence."""
    parts = [planks_words(count)]
    parts += [f"{count.spares} spares"] if count.spares else []
    parts += [f"{count.on_stairs} on the stairs"] if count.on_stairs else []
    parts += [f"less {count.on_hand} that we have"] if count.on_hand else []
    once = " once for the job" if len(count.zones) > 1 else ""
    attic = ", and one for the attic" if count.attic else ""
    lot = "; all of one lot" if count.cartons > 1 else ""
    per = count.product.per_carton
    return f"{', '.join(parts)}; {per} in a carton, rounded up{once}{attic}{lot}"


def _board_of(product: ProductTake) -> Board:
    return product.name, product.length_in, product.width_in, product.per_carton


def _with_its_board(board: Board) -> str:
    """Return a name for one of several products of the same name."""
    name, length, width, per_carton = board
    return f"{name}, {length.normalize():f} x {width.normalize():f} in, {per_carton} a carton"


def _stairs_of(zones: Sequence[ZoneTake], stairs: Sequence[StairTake]) -> tuple[StairTake, ...]:
    names = {zone.name for zone in zones}
    return tuple(stair for stair in stairs if stair.zone in names)
