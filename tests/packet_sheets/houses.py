"""Jobs of several rooms, planned, agreed on and laid onto days: two rooms, and a whole house."""

from __future__ import annotations

from decimal import Decimal

from jobs.models import Job, SiteFacts, Treatment
from jobs.services.scope import freeze_scope
from tests.builders import make_company, make_doorway, make_job, make_product, make_room, make_zone
from tests.jobs.agreed import a_crew, laid_out
from tests.jobs.plans import planned, planned_alike

DIFFERENT = (
    ("Living room", (312, 226)),
    ("Kitchen", (218, 186.5)),
    ("Dining room", (196, 174)),
    ("Hall", (282, 48)),
    ("Bedroom 1", (212.5, 228)),
    ("Bedroom 2", (204, 178)),
    ("Bedroom 3", (190, 162)),
    ("Study", (172, 141)),
    ("Den", (272, 219)),
)
"""Nine rooms of 2,500 ft2 in all, no two alike."""

LOOKS = 400
"""The planner's looks at a room of 200 by 200 in: as many however busy the machine is."""


def agreed_on(job: Job) -> Job:
    """Return the job with its scope agreed on and laid onto the days of two people."""
    job.agreed_scope = freeze_scope(job=job, user=None)
    job.save()
    SiteFacts.objects.update_or_create(
        job=job,
        defaults={
            "subfloor": "wood",
            "tear_out": True,
            "existing_floor": "carpet",
            "year_built": 1994,
            "access": "Key under the blue pot.",
            "parking": "In the drive, left side",
            "saw_spot": "Garage, door open",
            "power": "Garage, 20 A",
            "disposal_place": "Curb on Fridays",
            "flights": 1,
        },
    )
    laid_out(job, a_crew(job.company, 2))
    return Job.objects.get(pk=job.pk)


def two_rooms() -> Job:
    """A hall of 21' 2" by 46" and a bedroom of 15' 4 1/2" by 18' 8", a door off the hall."""
    job = make_job(make_company(), title="Bedroom and hall")
    product = make_product(job.company, carton_weight_kg=Decimal("14.5"))
    hall = make_room(job, "Hall", size=(254, 46))
    bedroom = make_room(job, "Bedroom", size=(184.5, 224))
    strip = {"treatment": Treatment.REDUCER, "casings": 2, "width_mm": Decimal("762")}
    make_doorway(hall, wall=1, offset_mm=Decimal(200), depth_mm=Decimal(114), **strip)
    for room in (hall, bedroom):
        planned(make_zone(room, product))
    return agreed_on(job)


def one_room() -> Job:
    """A den, the least there is to print."""
    job = make_job(make_company())
    planned(make_zone(make_room(job, "Den")))
    return agreed_on(job)


def one_floor() -> Job:
    """A house of 2,500 ft2 laid through: 600 by 600 in, 85 rows and a half."""
    job = make_job(make_company(), title="Whole house")
    product = make_product(job.company, carton_weight_kg=Decimal("14.5"))
    planned(make_zone(make_room(job, "House", size=(600, 600)), product))
    return agreed_on(job)


def nine_different_rooms() -> Job:
    """A house of 2,500 ft2, nine rooms of nine sizes, each its own floor, a door off the hall."""
    job = make_job(make_company(), title="Nine different rooms")
    product = make_product(job.company, carton_weight_kg=Decimal("14.5"))
    rooms = {name: make_room(job, name, size=size) for name, size in DIFFERENT}
    strip = {"treatment": Treatment.REDUCER, "casings": 2, "width_mm": Decimal(762)}
    make_doorway(rooms["Hall"], wall=1, offset_mm=Decimal(200), depth_mm=Decimal(114), **strip)
    for room in rooms.values():
        planned_alike(make_zone(room, product), iterations=LOOKS)
    return agreed_on(job)


def nine_rooms() -> Job:
    """A house of 2,500 ft2, nine rooms of 200 by 200 in, each a floor of its own."""
    job = make_job(make_company(), title="Nine rooms")
    product = make_product(job.company, carton_weight_kg=Decimal("14.5"))
    for number in range(1, 10):
        zone = make_zone(make_room(job, f"Room {number}", size=(200, 200)), product)
        planned_alike(zone, iterations=LOOKS)
    return agreed_on(job)
