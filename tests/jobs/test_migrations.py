"""What migrations do to rows that were there before."""

from __future__ import annotations

from base64 import urlsafe_b64decode
from decimal import Decimal

import pytest
from django.apps.registry import Apps
from django.db.models import Model

from jobs.models import Product, Room
from jobs.readers.old_floors.rooms import room_facts
from tests.migrating import tables_at, tables_of_today

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.usefixtures("there_and_back")]

BEFORE, AFTER = "0004_measuring_on_screen", "0005_doorway_heights_and_trim_stock"
BEFORE_SPELLED, SPELLED = "0007_moisture_readings_in_a_list", "0008_spelled_as_the_trade_does"
BEFORE_WALLS, WALLS = SPELLED, "0009_walls_of_new_floors"
BEFORE_RIPS, RIPS = WALLS, "0010_rip_kerf"
BEFORE_HISTORY, HISTORY = "0012_trim_beside_no_wall", "0013_rates_with_history"
BEFORE_TYPED, TYPED = "0014_archive_removals_and_room_notes", "0015_product_sizes_as_typed"

BEFORE_SEALS, SEALS = "0037_how_long_things_are_kept", "0038_seals_of_waiting_entries"
BEFORE_ROOMS, ROOMS = "0034_what_a_log_brought", "0035_what_was_in_each_room"


def an_old_product(old: Apps) -> tuple[Model, Model]:
    """Return a company and a product of it, of the models as they were."""
    company = old.get_model("jobs", "Company").objects.create(name="Den Floors")
    rules = dict.fromkeys(("gap_mm", "saw_kerf_mm", "min_end_mm", "min_offset_mm", "min_row_mm"), 5)
    sizes = {"length_mm": 1200, "width_mm": 180, "thickness_mm": 6, "per_carton": 8} | rules
    products = old.get_model("jobs", "Product").objects
    return company, products.create(company=company, name="Oak", **sizes)


def test_treatments_of_old_doorways_count_as_chosen_by_hand() -> None:
    old = tables_at("jobs", BEFORE)
    company = old.get_model("jobs", "Company").objects.create(name="Fernwood Floors")
    client = old.get_model("jobs", "Client").objects.create(company=company, name="Ines Okafor")
    values = {
        "company": company,
        "client": client,
        "number": 1,
        "title": "Den",
        "units": "imperial",
    }
    job = old.get_model("jobs", "Job").objects.create(**values)
    room = old.get_model("jobs", "Room").objects.create(job=job, name="Den")
    sizes = {"wall": 0, "offset_mm": 0, "width_mm": 800, "depth_mm": 100}
    old.get_model("jobs", "Doorway").objects.create(room=room, **sizes)

    new = tables_at("jobs", AFTER)

    assert new.get_model("jobs", "Doorway").objects.get().chosen_by_hand


def test_a_column_spelled_anew_keeps_its_value_and_the_source_of_its_rule() -> None:
    old = tables_at("jobs", BEFORE_SPELLED)
    company = old.get_model("jobs", "Company").objects.create(name="Den Floors", licence="HG-0420")
    sources = {"acclimatise_hours": "sheet", "gap_mm": "ours"}
    values = {"company": company, "name": "Oak", "acclimatise_hours": 48, "rule_sources": sources}
    rules = dict.fromkeys(("gap_mm", "saw_kerf_mm", "min_end_mm", "min_offset_mm", "min_row_mm"), 5)
    sizes = {"length_mm": 1200, "width_mm": 180, "thickness_mm": 6, "per_carton": 8} | rules
    old.get_model("jobs", "Product").objects.create(**values, **sizes)

    new = tables_at("jobs", SPELLED)

    product = new.get_model("jobs", "Product").objects.get()
    assert new.get_model("jobs", "Company").objects.get().license == "HG-0420"
    assert product.acclimate_hours == 48
    assert product.rule_sources == {"acclimate_hours": "sheet", "gap_mm": "ours"}


def test_a_floor_that_is_there_keeps_its_walls_and_its_company_sets_nothing() -> None:
    old = tables_at("jobs", BEFORE_WALLS)
    company, product = an_old_product(old)
    client = old.get_model("jobs", "Client").objects.create(company=company, name="Ines Okafor")
    job = old.get_model("jobs", "Job").objects.create(
        company=company, client=client, number=1, title="Den", units="imperial"
    )
    old.get_model("jobs", "FloorZone").objects.create(job=job, name="Den", product=product)

    new = tables_at("jobs", WALLS)

    assert new.get_model("jobs", "FloorZone").objects.get().wall_error_mm == 0
    assert new.get_model("jobs", "Company").objects.get().wall_error_mm is None


def test_a_product_that_is_there_loses_to_a_rip_what_it_always_did() -> None:
    old = tables_at("jobs", BEFORE_RIPS)
    an_old_product(old)
    old.get_model("jobs", "Product").objects.update(rule_sources={"saw_kerf_mm": "default"})

    new = tables_at("jobs", RIPS)

    product = new.get_model("jobs", "Product").objects.get()
    assert (product.saw_kerf_mm, product.rip_kerf_mm) == (5, None)
    assert product.rule_sources["rip_kerf_mm"] == "default"


def test_a_rate_from_the_logs_knows_the_jobs_that_its_source_names() -> None:
    old = tables_at("jobs", BEFORE_HISTORY)
    company = old.get_model("jobs", "Company").objects.create(name="Fernwood Floors")
    sources = ["learned from 3 jobs", "learned from 1 job", "timed on 9 jobs", "learned from Ines"]
    for number, source in enumerate(sources):
        values = {"task": "lay", "driver": "pieces", "item": str(number), "hours": 2}
        old.get_model("jobs", "Rate").objects.create(company=company, source=source, **values)

    new = tables_at("jobs", HISTORY)

    rates = new.get_model("jobs", "Rate").objects.order_by("pk")
    assert [(rate.source, rate.jobs) for rate in rates] == list(
        zip(sources, (3, 1, 0, 0), strict=True)
    )


def test_a_product_that_is_there_keeps_all_of_it_and_assumes_nothing() -> None:
    old = tables_at("jobs", BEFORE_TYPED)
    _, row = an_old_product(old)
    kept = {"width_mm": Decimal("179.07"), "more_boards": [{"width_mm": "127", "per_carton": 3}]}
    kept |= {"rule_sources": {"gap_mm": "sheet"}, "rules_source": "Maker's sheet, 2026"}
    kept |= {"tilt_deg": Decimal(25), "carton_weight_kg": None, "units": "imperial"}
    old.get_model("jobs", "Product").objects.update(**kept)
    names = [field.attname for field in row._meta.get_fields() if hasattr(field, "attname")]
    before = old.get_model("jobs", "Product").objects.values(*names).get()

    new = tables_at("jobs", TYPED)

    assert new.get_model("jobs", "Product").objects.values(*names).get() == before
    product = new.get_model("jobs", "Product").objects.get()
    assert (product.typed_sizes, product.step_sources, product.covers_ft2) == ({}, {}, None)
    assert not product.weight_assumed
    tables_of_today()
    page = Product.objects.get()
    assert (page.widths, page.weight) == (("7.05\u00a0in", '5"'), "")


def test_rooms_keep_what_was_said_of_their_house() -> None:
    old = tables_at("jobs", BEFORE_ROOMS)
    company = old.get_model("jobs", "Company").objects.create(name="Fernwood Floors")
    client = old.get_model("jobs", "Client").objects.create(company=company, name="Ines Okafor")
    for number, painted in ((1, "5"), (2, "0")):
        values = {"company": company, "client": client, "number": number, "title": "Den"}
        job = old.get_model("jobs", "Job").objects.create(**values, units="imperial")
        facts = {"existing_floor": "tile", "floor_year": 1984, "subfloor": "slab"}
        old.get_model("jobs", "SiteFacts").objects.create(
            job=job, **facts, painted_ft2_per_room=Decimal(painted)
        )
        old.get_model("jobs", "Room").objects.create(job=job, name="Den")

    tables_of_today()

    counted, open_still = Room.objects.order_by("job__number")
    assert (counted.painted_base, open_still.painted_base) == ("counted", "unknown")
    for room in (counted, open_still):
        facts_now = room_facts(room, room.job.site)
        assert (facts_now.existing_floor, facts_now.floor_year) == ("tile", 1984)
        assert (facts_now.subfloor, facts_now.layer_below) == ("slab", "unknown")


def test_everybody_who_is_there_gets_a_seal_of_their_own() -> None:
    people = tables_at("jobs", BEFORE_SEALS).get_model("jobs", "User").objects
    for name in ("Ada", "Lio"):
        people.create(email=f"{name}@example.com", name=name, role="crew")

    people = tables_at("jobs", SEALS).get_model("jobs", "User").objects

    seals = set(people.values_list("log_seal", flat=True))
    assert len(seals) == 2
    assert {len(urlsafe_b64decode(seal)) for seal in seals} == {32}
