"""What was said and when: people, plans, classes, builds and their readings.

Everything computed is recomputed from these by the engine.
"""

from projects.models.builds import Build, BuildMove, Reading
from projects.models.classes import Membership, ShopClass
from projects.models.drafts import Draft, DraftChange
from projects.models.people import User
from projects.models.pictures import PlanPicture
from projects.models.plans import Plan, Revision
from projects.models.shops import Acceptance, Shop

__all__ = [
    "Acceptance",
    "Build",
    "BuildMove",
    "Draft",
    "DraftChange",
    "Membership",
    "Plan",
    "PlanPicture",
    "Reading",
    "Revision",
    "Shop",
    "ShopClass",
    "User",
]
