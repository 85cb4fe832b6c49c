"""What the pages of products say: the plank in a line, what follows, how each step stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from jobs.domain.figures import NO_BREAK
from jobs.domain.floors.rule_sources import OUR_DEFAULT, is_practice, rule_source, step_source
from jobs.domain.floors.suitability import GROUNDS
from jobs.domain.lengths import MM_PER_IN, length_words, size_words
from jobs.domain.products.carton import FT2_PER_M2, carton_ft2, planks_in_row
from jobs.domain.products.joining import JOINING, JOINING_CARE, TONGUE, cutting_words
from jobs.domain.products.steps import STEPS, ProductStep
from jobs.domain.products.weights import weight_words
from jobs.models import Allowed, Product, UnitSystem

_OURS = "†"
_ROW_MM = {"imperial": MM_PER_IN * 144, "metric": Decimal(3600)}
_FOR_WEIGHT_FT2 = {"imperial": Decimal(100), "metric": FT2_PER_M2 * 10}
_WEIGHT_OF = {"imperial": "100 ft²", "metric": "10 m²"}


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLine:
    """A step of a product: what stands there now, where it comes from, how much of it is ours."""

    step: ProductStep
    sentence: str
    source: str
    ours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JoiningLine:
    """A sentence of the joining card and where it comes from."""

    words: str
    source: str


def board_words(product: Product) -> str:
    """Return the plank in a line: widths by length, and how thick."""
    *first, last = product.widths
    widths = f"{', '.join(first)} and {last}" if first else last
    return f"{widths} by {product.sized('length_mm')}, {product.sized('thickness_mm')} thick"


def carton_words(product: Product) -> str:
    """Return what a carton holds, in a line."""
    return f"{product.carton_boards} planks, {_covers(product)}"


def what_follows(product: Product) -> list[tuple[str, str]]:
    """Return what follows from the carton: label and figure."""
    units, covers = product.units, carton_ft2(product.length_mm, product.sizes)
    row = planks_in_row(product.length_mm, _ROW_MM[units])
    pairs = [
        ("A carton covers, by its planks", _covers(product)),
        (
            f"A row of {length_words(_ROW_MM[units], units)}",
            f"{row} plank{'' if row == 1 else 's'}",
        ),
    ]
    if product.carton_weight_kg is None or not covers:
        return pairs
    weight = product.carton_weight_kg * _FOR_WEIGHT_FT2[units] / covers
    whole = weight_words(weight, units)
    number, _, unit = whole.partition(NO_BREAK)
    heavy = f"{round(Decimal(number))}{NO_BREAK}{unit}"
    mark = _OURS if product.weight_assumed else ""
    return [*pairs, (f"{_WEIGHT_OF[units]} weigh{mark}", heavy)]


def _covers(product: Product) -> str:
    ft2 = carton_ft2(product.length_mm, product.sizes)
    if product.units == UnitSystem.METRIC:
        return f"{round(ft2 / FT2_PER_M2, 2)}{NO_BREAK}m²"
    return f"{ft2}{NO_BREAK}ft²"


def card_lines(product: Product) -> list[JoiningLine]:
    """Return the joining card: by lock, with what the sheet says of it."""
    lines = [
        _card(product, JOINING[product.lock], "lock"),
        JoiningLine(words=TONGUE[product.tongue], source=_or_mark(step_source(product, "joining"))),
    ]
    if product.tilt_deg is not None:
        tilt = f"Tilt {product.tilt_deg.normalize():f}°."
        lines.append(_card(product, tilt, "tilt_deg"))
    if product.tapping:
        lines.append(_card(product, f"{product.get_tapping_display()}.", "tapping"))
    saw, rip = (size_words(mm, product.units) for mm in (product.saw_kerf_mm, product.rip_mm))
    cut = cutting_words(product.saw_kerf_mm, product.rip_mm, saw, rip)
    lines.append(_card(product, cut, "saw_kerf_mm"))
    return [*lines, JoiningLine(words=JOINING_CARE, source=_OURS)]


def _card(product: Product, words: str, rule: str) -> JoiningLine:
    return JoiningLine(words=words, source=_or_mark(rule_source(product, rule)))


def _or_mark(source: str) -> str:
    """Return a source, of common practice its mark alone."""
    return _OURS if source == OUR_DEFAULT else source


def step_lines(product: Product) -> list[StepLine]:
    """Return every step after the carton as it stands."""
    return [_step_line(product, step) for step in STEPS]


def _step_line(product: Product, step: ProductStep) -> StepLine:
    parts = {
        "joining": _joining,
        "laying": _laying,
        "place": _place,
        "rest": _rest,
        "mix": _mix,
        "sheet": _sheet,
    }[step.code](product)
    words = ". ".join(part[:1].upper() + part[1:] for part in parts if part)
    said = [rule for rule in step.rules if getattr(product, rule) not in (None, "", [])]
    ours = sum(is_practice(product, rule) for rule in said)
    return StepLine(
        step=step,
        sentence=f"{words}.",
        source=_unless_ours(step_source(product, step.code)) if said else "",
        ours=_ours_words(ours, len(said)),
    )


def _unless_ours(source: str) -> str:
    return "" if source == OUR_DEFAULT else source


def _ours_words(ours: int, rules: int) -> str:
    """Return how many rules of a step are common practice."""
    if not ours:
        return ""
    if ours == rules:
        return f"ours {_OURS}"
    return f"{ours} {'is' if ours == 1 else 'are'} ours {_OURS}"


def _marked(product: Product, words: str, rule: str) -> str:
    """Return what a rule says, marked where it is common practice."""
    return f"{words}{_OURS if is_practice(product, rule) else ''}"


def _joining(product: Product) -> Iterator[str]:
    tilt = f" at {product.tilt_deg.normalize():f}°" if product.tilt_deg is not None else ""
    yield f"{_marked(product, str(product.get_lock_display()), 'lock')}{tilt}"
    yield str(product.get_tapping_display()) if product.tapping else "tapping not said"
    yield "rows both ways" if product.both_ways else "rows one way"
    yield f"tongue {str(product.get_tongue_display()).lower()}"


def _laying(product: Product) -> Iterator[str]:
    def mm(name: str) -> str:
        return _marked(product, size_words(getattr(product, name), product.units), name)

    gap, end, apart = (mm(name) for name in ("gap_mm", "min_end_mm", "min_offset_mm"))
    yield f"gap {gap}, end pieces {end}, joints {apart} apart, rows {mm('min_row_mm')} or more"
    saw, rip = (
        _marked(product, size_words(taken, product.units) if taken else "nothing", name)
        for name, taken in (("saw_kerf_mm", product.saw_kerf_mm), ("rip_kerf_mm", product.rip_mm))
    )
    yield f"a cut across takes {saw}, a rip {rip}"
    if product.stagger != "free":
        yield f"stagger: {str(product.get_stagger_display()).lower()}"
    yield _longest(product)


def _longest(product: Product) -> str:
    along, across = (
        None if mm is None else length_words(mm, product.units)
        for mm in (product.max_run_mm, product.max_run_width_mm)
    )
    if along and across:
        return f"no break up to {along} along the rows and {across} across"
    if along or across:
        return f"no break up to {along or across} {'along' if along else 'across'} the rows"
    return "longest run not said"


def _place(product: Product) -> Iterator[str]:
    over = [GROUNDS.get(ground, ground) for ground in product.laid_over]
    yield f"over {', '.join(over)}" if over else "what it may lie over is not said"
    yield str(product.get_wettest_display()) if product.wettest else "wet rooms not said"
    yield _allowed("a heated floor", product.heated_floor)
    if not product.attached_pad:
        yield _allowed("a separate pad", product.separate_pad)
    else:
        yield "no second pad"
    yield f"subfloor flat to {product.flatness}" if product.flatness else "flatness not said"


def _allowed(what: str, said: str) -> str:
    return {Allowed.YES: f"{what} allowed", Allowed.NO: f"{what} not allowed"}.get(
        Allowed(said), f"{what} not said"
    )


def _rest(product: Product) -> Iterator[str]:
    limits = [
        f"{what} up to {value.normalize():f}{unit}"
        for what, value, unit in (
            ("slab", product.most_rh_pct, "% relative humidity"),
            ("slab", product.most_mver, " lb per 1000 ft² in 24 h"),
            ("wood", product.most_wood_mc_pct, "% moisture"),
        )
        if value is not None
    ]
    yield ", ".join(limits) or "moisture limits not said"
    hours = product.acclimate_hours
    rest = f"{hours} h in the room before laying" if hours else "no hours in the room"
    yield _marked(product, rest, "acclimate_hours")
    yield product.moisture_limit.rstrip(".")


def _mix(product: Product) -> Iterator[str]:
    widths = product.widths
    yield "one width" if len(widths) == 1 else f"widths {', '.join(widths)}"
    named = [
        ", ".join(f"{count} of {name}" for name, count in mix.items()) for mix in product.mixes
    ]
    if any(named):
        yield f"shades {'; '.join(filter(None, named))}"
    else:
        yield f"{product.shades} shades, mixed" if product.shades else "one shade"


def _sheet(product: Product) -> Iterator[str]:
    yield f"{product.sheet.name} attached" if product.sheet else "no sheet attached"
    yield f"edition: {product.sheet_edition}" if product.sheet_edition else "edition not noted"
    whole = product.rules_source
    yield f"what no step names: {whole}{_OURS if whole == OUR_DEFAULT else ''}"


def gap_words(product: Product) -> str:
    """Return the gap of a product with its source, for a list."""
    source = rule_source(product, "gap_mm")
    lower = source.startswith(("Our", "Maker", "Set"))
    inside = f"{source[:1].lower()}{source[1:]}" if lower else source
    return f"{length_words(product.gap_mm, product.units)} ({inside})"
