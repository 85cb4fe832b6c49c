"""The rows of the jobs app, by subject."""

from jobs.models.base import UnitSystem, Versioned
from jobs.models.board.kept import KeptConflict
from jobs.models.board.penciled import PenciledCrew
from jobs.models.client import Client, ClientKind
from jobs.models.company import AuditLine, Company, Paper, SentOnce
from jobs.models.crew import Crew, DaysChange, LastCrewDay, Packet, WorkDay
from jobs.models.day_log.day_log import DayLog, HoldOverride, LogPhoto, PunchItem
from jobs.models.document import Document, StoredFile
from jobs.models.extras.extra import JobExtra
from jobs.models.feeds.feed import CalendarFeed, PublishedDay
from jobs.models.floor import AlternativePlan, FloorPlan, FloorZone, LeftoverStock
from jobs.models.job import ExistingFloor, HoldClearance, Job, OtherBath, SiteFacts, Subfloor
from jobs.models.lived_in.nights import AgreedNights
from jobs.models.log import (
    Callback,
    CallbackCause,
    HoursStanding,
    LogCorrection,
    LogEntry,
    SpoilReason,
)
from jobs.models.mail.mail import Mail, MailState
from jobs.models.note import RoomNote
from jobs.models.old_floors.old_floor import LayerBelow, OldAdhesive, PaintedBase, RoomBefore
from jobs.models.payers.payer import JobPayer, UnitPricesOf
from jobs.models.payers.supplied import SuppliedBy, SuppliedMaterial, SuppliedReceipt
from jobs.models.product import (
    Allowed,
    Core,
    LaidOver,
    LockType,
    Product,
    StaggerRule,
    Tapping,
)
from jobs.models.removal import Removal, RemovedKind
from jobs.models.room import (
    BaseTreatment,
    Doorway,
    FloorKind,
    Furniture,
    Moisture,
    OpeningKind,
    Room,
    StairFlight,
    Swing,
    Transition,
    Treatment,
    TrimKind,
    TrimRun,
)
from jobs.models.scope import PastRate, Rate, RateTaking, Scope
from jobs.models.user import OpenSession, Role, User
from jobs.models.work import Errand, WorkerBeat

__all__ = [
    "AgreedNights",
    "Allowed",
    "AlternativePlan",
    "AuditLine",
    "BaseTreatment",
    "CalendarFeed",
    "Callback",
    "CallbackCause",
    "Client",
    "ClientKind",
    "Company",
    "Core",
    "Crew",
    "DayLog",
    "DaysChange",
    "Document",
    "Doorway",
    "Errand",
    "ExistingFloor",
    "FloorKind",
    "FloorPlan",
    "FloorZone",
    "Furniture",
    "HoldClearance",
    "HoldOverride",
    "HoursStanding",
    "Job",
    "JobExtra",
    "JobPayer",
    "KeptConflict",
    "LaidOver",
    "LastCrewDay",
    "LayerBelow",
    "LeftoverStock",
    "LockType",
    "LogCorrection",
    "LogEntry",
    "LogPhoto",
    "Mail",
    "MailState",
    "Moisture",
    "OldAdhesive",
    "OpenSession",
    "OpeningKind",
    "OtherBath",
    "Packet",
    "PaintedBase",
    "Paper",
    "PastRate",
    "PenciledCrew",
    "Product",
    "PublishedDay",
    "PunchItem",
    "Rate",
    "RateTaking",
    "Removal",
    "RemovedKind",
    "Role",
    "Room",
    "RoomBefore",
    "RoomNote",
    "Scope",
    "SentOnce",
    "SiteFacts",
    "SpoilReason",
    "StaggerRule",
    "StairFlight",
    "StoredFile",
    "Subfloor",
    "SuppliedBy",
    "SuppliedMaterial",
    "SuppliedReceipt",
    "Swing",
    "Tapping",
    "Transition",
    "Treatment",
    "TrimKind",
    "TrimRun",
    "UnitPricesOf",
    "UnitSystem",
    "User",
    "Versioned",
    "WorkDay",
    "WorkerBeat",
]
