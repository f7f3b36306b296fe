"""What people do: each verb checks, then writes. One module a noun."""

from projects.actions.classes import (
    enrol,
    move_builds,
    new_card,
    new_people,
    open_class,
)
from projects.actions.plans import (
    add_picture,
    pack_revision,
    publish_file,
    publish_plan,
)
from projects.actions.readings import SecondLookError, log_reading, set_aside

__all__ = [
    "SecondLookError",
    "add_picture",
    "enrol",
    "log_reading",
    "move_builds",
    "new_card",
    "new_people",
    "open_class",
    "pack_revision",
    "publish_file",
    "publish_plan",
    "set_aside",
]
