"""Drafts: plan documents that may be incomplete or wrong, and work on them.

A document is a plan file's JSON as plain dicts, lengths as the texts typed. Every
operation returns a new document and raises `EngineError` for what is impossible.

- ``document``    blank documents, entries by key, new keys, moving entries
- ``references``  what names what: new keys are followed everywhere
- ``head``        title, tape, units; stock
- ``parts``       parts; ``pairs`` their mirror images, ``removal`` what goes with one
- ``ties``        joints and distances; ``flush`` flush faces and even spaces
- ``steps``       the steps
- ``choices``     which faces can be picked
- ``text``        the plan file of a document, and back
- ``faults``      what the strict reader refuses, by entry
- ``reading``     as much of a document as can be read, and the faults of the rest
- ``numeric``     where faces are, in numbers
- ``questions``   what nothing fixes; ``guesses`` boxes all the same
- ``looking``     `look`: all that can be said about a draft
- ``differences`` between two documents; ``merging`` two people's changes;
  ``rescue`` what one removed and the other worked on
"""

from projects.engine.draft.choices import (
    Choice,
    faces_facing,
    faces_of,
    faces_on_axis,
)
from projects.engine.draft.differences import differences
from projects.engine.draft.document import Document, blank, find, move, new_key
from projects.engine.draft.flush import (
    add_even,
    add_flush,
    add_to_even,
    add_to_flush,
    make_flush,
    remove_even,
    remove_flush,
    remove_from_even,
    remove_from_flush,
)
from projects.engine.draft.head import (
    add_stock,
    change_stock,
    remove_stock,
    set_tape,
    set_title,
    set_units,
)
from projects.engine.draft.looking import look
from projects.engine.draft.merging import merge, take_mine
from projects.engine.draft.pairs import make_pair
from projects.engine.draft.parts import (
    add_part,
    change_part,
    duplicate_part,
    pair_parts,
    rename_part,
    unpair,
)
from projects.engine.draft.records import (
    Change,
    Conflict,
    Contradiction,
    Drawn,
    Fault,
    Fix,
    Gives,
    Look,
    Merged,
    Note,
    Question,
    Ref,
    Trouble,
)
from projects.engine.draft.references import rekey
from projects.engine.draft.removal import Gone, remove_part, what_goes
from projects.engine.draft.steps import add_step, change_step, remove_step
from projects.engine.draft.text import plan_text, read_document
from projects.engine.draft.ties import (
    add_distance,
    add_joint,
    change_distance,
    change_joint,
    remove_distance,
    remove_joint,
)

__all__ = [
    "Change",
    "Choice",
    "Conflict",
    "Contradiction",
    "Document",
    "Drawn",
    "Fault",
    "Fix",
    "Gives",
    "Gone",
    "Look",
    "Merged",
    "Note",
    "Question",
    "Ref",
    "Trouble",
    "add_distance",
    "add_even",
    "add_flush",
    "add_joint",
    "add_part",
    "add_step",
    "add_stock",
    "add_to_even",
    "add_to_flush",
    "blank",
    "change_distance",
    "change_joint",
    "change_part",
    "change_step",
    "change_stock",
    "differences",
    "duplicate_part",
    "faces_facing",
    "faces_of",
    "faces_on_axis",
    "find",
    "look",
    "make_flush",
    "make_pair",
    "merge",
    "move",
    "new_key",
    "pair_parts",
    "plan_text",
    "read_document",
    "rekey",
    "remove_distance",
    "remove_even",
    "remove_flush",
    "remove_from_even",
    "remove_from_flush",
    "remove_joint",
    "remove_part",
    "remove_step",
    "remove_stock",
    "rename_part",
    "set_tape",
    "set_title",
    "set_units",
    "take_mine",
    "unpair",
    "what_goes",
]
