"""Settings in words: templates and what fills them, so that they can be translated.

What is said of how work is held is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from projects.engine.plan.records import FACES, FaceName, Plan
from projects.engine.setups.setting_laying import FROM_BELOW
from projects.engine.setups.setting_records import Kind, Piece, Setting
from projects.engine.setups.setting_stopped import stopped_words
from projects.engine.setups.words import Words, row
from projects.engine.shop.machines import HAND_TOOLS

TOOLS = {
    "table_saw": "blade",
    "mitre_saw": "blade",
    "band_saw": "blade",
    "router": "bit",
    "router_table": "bit",
    "drill_press": "bit",
    "mortiser": "chisel",
}
"""What cuts at each machine."""

_MARKED = ("shoulder", "lap", "notch")
_FROM = {
    ("stop", "near"): "Stop {stop} from the near side of the {tool}",
    ("stop", "far"): "Stop {stop} from the far side of the {tool}",
    ("fence", "near"): "Fence {stop} from the near side of the {tool}",
    ("fence", "far"): "Fence {stop} from the far side of the {tool}",
}
_MARK = {
    "near": "Mark {stop} to the near side of the cut",
    "far": "Mark {stop} to the inner side of the cut",
}
_THEN: Mapping[Kind, str] = {
    "rip": "what lies between is the part, the kerf is outside it",
    "crosscut": "what lies between is the part, the kerf is outside it",
    "slot": "slot {width} wide, {height} deep",
    "groove": "groove {width} wide, {height} deep",
    "rabbet": "{height} deep; the cut runs out on the side measured from",
    "lap": "{height} deep, cleared in several passes",
    "mortise": "mortise {width} wide, {height} deep, {length} long",
    "shoulder": "{height} high; what is cut away lies on the side measured from",
    "cheek": "{height} high; what lies between stays",
}
_ALONE: Mapping[Kind, str] = {
    "thickness": "Plane to {height}.",
    "hole": "Bit of {width}, {height} deep; mark the two parts from each other.",
    "notch": "Mark the notch {stop} in from the end and {height} in from the edge.",
    "slot": "Mark the place from the parts: slot {width} wide, {height} deep.",
    "groove": "Mark the place from the parts: groove {width} wide, {height} deep.",
    "rabbet": "Mark the place from the parts: rabbet {width} wide, {height} deep.",
    "lap": "Mark the place from the parts: lap {width} wide, {height} deep.",
    "mortise": "Mark the place from the parts: mortise {width} wide, {height} deep, "
    "{length} long.",
}
_WIDE_LAP = "lap {width} wide in all, {height} deep, cleared in several passes"
_NOUNS = {"length": "{face} end", "width": "{face} edge", "thickness": "{face} face"}
_LAID = {
    "down": ("{face} down", "then {face} down"),
    "up": ("{face} up", "then {face} up"),
    "on": ("on the {face}", "then on the {face}"),
}
_AT = {
    "stop": ("{face} to the stop", "then {face} to the stop"),
    "fence": ("{face} to the fence", "then {face} to the fence"),
    "none": ("from the {face}", "then from the {face}"),
}
_ON_THE_RIGHT = {
    "stop": "Stand the stop to the right of the {tool} as you feed: to the left of it "
    "the other edge goes first.",
    "fence": "Stand the fence to the right of the {tool} as you feed: to the left of "
    "it the other edge goes first.",
}
_MEASURED = ("measured from the {face}", "then measured from the {face}")
_ENDS = {
    (False, None): "It stops {short} short of the {edge}.",
    (False, True): "It stops {short} short of the {edge}, which goes in first.",
    (False, False): "It stops {short} short of the {edge}, which comes out last.",
    (True, None): "It may stop {short} short of the {edge}.",
    (True, True): "It may stop {short} short of the {edge}, which goes in first: "
    "stopped there it is a drop cut.",
    (True, False): "It may stop {short} short of the {edge}, which comes out last.",
}


def by_marks(setting: Setting) -> bool:
    """Return whether a cut is made to marks on the part, not against a stop."""
    return setting.machine in ("router", HAND_TOOLS) or (
        setting.machine == "band_saw" and setting.kind in _MARKED
    )


def setting_words(plan: Plan, setting: Setting) -> tuple[Words, ...]:
    """Return what to set, or what it waits for, each a sentence."""
    if setting.waits:
        return tuple(
            Words(
                template="Wait: measure {distance} on the dry assembly first.",
                names={"distance": plan.distance_by_key[key].name},
            )
            for key in setting.waits
        )
    said = [_set(setting)]
    if any(piece.either for piece in setting.pieces):
        said.append(
            Words(
                template="The plan leaves open which wide face is cut: lay the parts "
                "as they will meet and mark it. Named here: opposite faces of two that "
                "meet."
            )
        )
    if any(piece.leads for piece in setting.pieces):
        said.append(
            Words(
                template=_ON_THE_RIGHT[setting.rest],
                terms={"tool": TOOLS[setting.machine]},
            )
        )
    return tuple(said)


def _set(setting: Setting) -> Words:
    """Return the numbers of a setting in a sentence."""
    kind, numbers = setting.kind, setting.quantities
    lengths_mm: dict[str, Fraction] = {
        quantity.name: quantity.mm for quantity in numbers if quantity.mm is not None
    }
    if kind == "notch" or setting.quantity("stop") is None:
        return Words(template=_ALONE[kind], lengths_mm=lengths_mm)
    wide = kind == "lap" and setting.quantity("width") is not None
    then = _WIDE_LAP if wide else _THEN[kind]
    side = (setting.rest, setting.side)
    start = Words(
        template=_MARK[setting.side] if by_marks(setting) else _FROM[side],
        lengths_mm=lengths_mm,
        terms={"tool": TOOLS.get(setting.machine, "")},
    )
    return Words(
        template="{start}; {then}.",
        phrases={"start": start, "then": Words(template=then, lengths_mm=lengths_mm)},
    )


def piece_words(plan: Plan, setting: Setting, piece: Piece) -> tuple[Words, ...]:
    """Return how a part is laid for a setting, each a sentence."""
    return tuple(_piece(plan, setting, piece))


def _piece(plan: Plan, setting: Setting, piece: Piece) -> Iterator[Words]:
    yield _laid(plan, setting, piece)
    start_mm = setting.mm("start")
    if piece.start_from and start_mm is not None:
        yield Words(
            template="It starts {start} from the {edge}.",
            lengths_mm={"start": start_mm},
            phrases={"edge": face_words(plan, piece, piece.start_from)},
        )
    for end in piece.ends:
        yield Words(
            template=_ENDS[end.at_least, end.leads],
            lengths_mm={"short": end.mm},
            phrases={"edge": face_words(plan, piece, end.edge)},
        )
    if setting.machine in FROM_BELOW:
        yield from stopped_words(setting, piece, TOOLS[setting.machine])
    if piece.holes:
        yield Words(template="Holes: {n}.", names={"n": str(piece.holes)})
    if piece.in_doubt:
        yield Words(
            template="Measure {part} again first: what it was logged as cut at can't "
            "be.",
            names={"part": plan.part_by_key[piece.part].name},
        )


def _laid(plan: Plan, setting: Setting, piece: Piece) -> Words:
    """Return which face lies down and which end is at the stop or fence."""
    way, faces = "down", piece.down
    if piece.worked and piece.worked != piece.down:
        way, faces = "up" if piece.down else "on", piece.worked
    at = _MEASURED if by_marks(setting) else _AT[setting.rest]
    said = [*_in_turn(_LAID[way], faces), *_in_turn(at, piece.against)]
    if piece.leads:
        said.append(("{face} first", piece.leads))
    parts = [
        Words(
            template=template,
            phrases={"face": face_words(plan, piece, face)},
        )
        for template, face in said
    ]
    name = {"part": plan.part_by_key[piece.part].name, "count": str(piece.count)}
    who = "{part}" if piece.count == 1 else "{part}, {count} of them"
    return Words(
        template="{who}: {how}." if parts else "{who}.",
        phrases={"who": Words(template=who, names=name), "how": row(parts)},
    )


def _in_turn(
    templates: tuple[str, str], faces: Sequence[FaceName]
) -> Iterator[tuple[str, FaceName]]:
    for number, face in enumerate(faces):
        yield templates[min(number, 1)], face


def face_words(plan: Plan, piece: Piece, face: FaceName) -> Words:
    """Return a face of a part in words: its end, its edge or its face.

    A wide face of one of a pair is called by how it looks at the other of the two.
    """
    dimension = plan.part_by_key[piece.part].dimension_on(FACES[face][0])
    if piece.looks and dimension == "thickness":
        is_inside = (piece.looks == "inside") is (face in piece.worked)
        return Words(template="inside face" if is_inside else "outside face")
    return Words(template=_NOUNS[dimension], terms={"face": face})
