"""People, jobs and floors that tests start from. Invented; each builder saves what it returns.

Three people are in every story: an owner (or estimator), a crew member, and a stranger, who owns
another company.
"""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO
from itertools import count

from PIL import Image

from jobs.models import (
    Client,
    Company,
    Crew,
    Document,
    Doorway,
    FloorPlan,
    FloorZone,
    Job,
    LogEntry,
    Packet,
    Product,
    Role,
    Room,
    RoomNote,
    Scope,
    SiteFacts,
    StairFlight,
    StoredFile,
    Subfloor,
    TrimRun,
    User,
    WorkDay,
)
from jobs.services.files import store_file, store_picture
from jobs.services.records import freeze
from jobs.services.scope import freeze_scope

PASSWORD = "larch-and-level-9"
_numbers = count(1)


def make_company(name: str = "Fernwood Floors", **values: object) -> Company:
    """Return a company with all that no quote goes out without."""
    values = {"address": "12 Mill Road", "phone": "555-0103"} | values
    return Company.objects.create(name=name, **values)


def make_person(
    company: Company, role: str = Role.OWNER, *, name: str = "", email: str = "", **values: object
) -> User:
    """Return a person who signs in with `PASSWORD`."""
    number = next(_numbers)
    return User.objects.create_user(
        email or f"{role}{number}@example.com",
        PASSWORD,
        name=name or f"{role.capitalize()} {number}",
        role=role,
        company=company,
        **values,
    )


def make_client(company: Company, name: str = "Ines Okafor", **values: object) -> Client:
    """Return a client."""
    return Client.objects.create(company=company, name=name, **values)


def make_job(company: Company, client: Client | None = None, **values: object) -> Job:
    """Return a job with its sheet of site facts filled in."""
    number = next(_numbers)
    client = client or make_client(company)
    values = {"title": "Two rooms", "address": "4 Cooper Lane", "units": company.units} | values
    job = Job.objects.create(company=company, client=client, number=number, **values)
    SiteFacts.objects.create(job=job, year_built=1994, subfloor=Subfloor.WOOD)
    return job


def make_room(
    job: Job, name: str = "Den", size: tuple[float, float] = (60, 49), **values: object
) -> Room:
    """Return a rectangular room of ``size`` in the job's unit."""
    width, depth = size
    ring = [[0, 0], [width, 0], [width, depth], [0, depth]]
    walls = [{"length": str(side), "turn": "left"} for side in (width, depth, width, depth)]
    measured = {"walls": walls, "holes": []}
    return Room.objects.create(job=job, name=name, outline=ring, measured=measured, **values)


def make_product(company: Company, **values: object) -> Product:
    """Return a plank of 48 by 7 in, ten to the carton."""
    inches = {
        "length_mm": "1219.2",
        "width_mm": "177.8",
        "thickness_mm": "6.35",
        "gap_mm": "6.35",
        "saw_kerf_mm": "3.175",
        "min_end_mm": "203.2",
        "min_offset_mm": "203.2",
        "min_row_mm": "50.8",
    }
    lengths = {name: Decimal(value) for name, value in inches.items()}
    values = {"name": f"Plank {next(_numbers)}", "units": "imperial", "per_carton": 10} | values
    return Product.objects.create(company=company, **(lengths | values))


def make_zone(room: Room, product: Product | None = None, **values: object) -> FloorZone:
    """Return a floor zone of one room."""
    flooring = product or make_product(room.job.company)
    values = {"name": room.name, "direction_deg": Decimal(0)} | values
    zone = FloorZone.objects.create(job=room.job, product=flooring, **values)
    room.zone = zone
    room.save()
    return zone


def make_crew(company: Company, *members: User, name: str = "First crew") -> Crew:
    """Return a crew of these people."""
    crew = Crew.objects.create(company=company, name=f"{name} {next(_numbers)}")
    crew.members.set(members)
    return crew


def make_doorway(room: Room, **values: object) -> Doorway:
    """Return a doorway in the first wall of a room."""
    sizes = {"wall": 0, "offset_mm": 300, "width_mm": 812, "depth_mm": 114}
    return Doorway.objects.create(room=room, **(sizes | values))


def make_stair(job: Job, name: str = "Main stair", **values: object) -> StairFlight:
    """Return a flight of twelve treads, 36 in wide, its risers not measured."""
    counts = {"treads": 12, "riser_boards": 13, "nosings": 13, "width_mm": Decimal("914.4")}
    return StairFlight.objects.create(job=job, name=name, **(counts | values))


def make_run(room: Room, **values: object) -> TrimRun:
    """Return a run of base along the first wall of a room, 60 in long."""
    values = {"wall": 0, "kind": "base", "length_mm": Decimal(1524)} | values
    return TrimRun.objects.create(room=room, **values)


def make_plan(zone: FloorZone) -> FloorPlan:
    """Return a judged plan of a zone, made by the planner once for all floors that are alike."""
    from tests.jobs.plans import planned

    return planned(zone)


def make_planned_job(company: Company) -> Job:
    """Return a job with one small room, planned."""
    job = make_job(company)
    make_plan(make_zone(make_room(job)))
    return job


def make_day(job: Job, crew: Crew, scope: Scope | None = None, **values: object) -> WorkDay:
    """Return a working day of a crew on a planned job."""
    import datetime

    entry = {"key": "setup", "task": "setup", "zone": "", "label": "Set up", "hours": "1.50"}
    more: dict[str, object] = {"rows": None, "helper": False, "finishes": True, "hold_points": []}
    base = {"number": 1, "date": datetime.date(2027, 3, 1), "hours": Decimal("1.50")}
    scope = scope or freeze_scope(job=job, user=None)
    return WorkDay.objects.create(
        job=job, crew=crew, scope=scope, entries=[entry | more], **(base | values)
    )


def make_log_entry(day: WorkDay, who: User, **values: object) -> LogEntry:
    """Return an entry of a day's log, with a photograph."""
    photo = make_photo(day.job.company)
    fields = {"key": f"key-{next(_numbers)}", "task": "setup", "hours": Decimal("1.50")}
    return LogEntry.objects.create(day=day, who=who, photo=photo, **(fields | values))


def make_photo(company: Company) -> StoredFile:
    """Return a small photograph."""
    picture = BytesIO()
    Image.new("RGB", (8, 8), "tan").save(picture, "PNG")
    picture.seek(0)
    size = len(picture.getvalue())
    return store_picture(company=company, upload=picture, size=size, name="den.png")


def make_note(room: Room, text: str = "Hump by the window", **values: object) -> RoomNote:
    """Return a note of a room, with a photograph."""
    photo = make_photo(room.job.company)
    return RoomNote.objects.create(room=room, text=text, photo=photo, **values)


def make_packet(job: Job) -> Packet:
    """Return a packet of a job as if it had been printed; its file is no real PDF."""
    number = job.packets.count() + 1
    pdf = store_file(
        company=job.company,
        content=f"packet {number} of job {job.pk}".encode(),
        name=f"packet-{number}.pdf",
        content_type="application/pdf",
    )
    document = make_document(job.company, "packet", number=number)
    return Packet.objects.create(job=job, number=number, document=document, pdf=pdf)


def make_document(company: Company, kind: str = "plan", **content: object) -> Document:
    """Return a frozen document."""
    return freeze(company=company, kind=kind, content={"format": 1, **content}, user=None)
