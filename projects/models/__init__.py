"""What was said and when: people, plans, classes, builds and their readings.

Everything computed is recomputed from these by the engine.
"""

from projects.models.builds import Build, BuildMove, Reading
from projects.models.classes import Membership, ShopClass
from projects.models.people import User
from projects.models.plans import Plan, Revision

__all__ = [
    "Build",
    "BuildMove",
    "Membership",
    "Plan",
    "Reading",
    "Revision",
    "ShopClass",
    "User",
]
