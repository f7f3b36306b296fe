"""What was said and when: people, plans, classes, builds and what was done for them.

Everything computed is recomputed from these by the engine.
"""

from projects.models.builds import Build, BuildMove, Reading
from projects.models.classes import RIGHTS, Meeting, Membership, Right, ShopClass
from projects.models.drafts import Draft, DraftChange
from projects.models.meeting_night import (
    CutMark,
    MeetingPlan,
    Outage,
    Presence,
    RunSheet,
)
from projects.models.miscuts import Decision, WayOut
from projects.models.people import User
from projects.models.pictures import PlanPicture
from projects.models.plans import Plan, Revision
from projects.models.progress import Hand, NearMiss, StepMark
from projects.models.shops import (
    Acceptance,
    Machine,
    MachinePhoto,
    Question,
    Requirement,
    Shop,
)
from projects.models.signoffs import CheckTaken, RequirementRecord, SignOff

__all__ = [
    "RIGHTS",
    "Acceptance",
    "Build",
    "BuildMove",
    "CheckTaken",
    "CutMark",
    "Decision",
    "Draft",
    "DraftChange",
    "Hand",
    "Machine",
    "MachinePhoto",
    "Meeting",
    "MeetingPlan",
    "Membership",
    "NearMiss",
    "Outage",
    "Plan",
    "PlanPicture",
    "Presence",
    "Question",
    "Reading",
    "Requirement",
    "RequirementRecord",
    "Revision",
    "Right",
    "RunSheet",
    "Shop",
    "ShopClass",
    "SignOff",
    "StepMark",
    "User",
    "WayOut",
]
