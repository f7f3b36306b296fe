"""Random drafts: good plans spoilt somewhere, and random operations on them."""

import copy
import random
from typing import Any

from projects.engine import draft
from projects.engine.draft.document import LISTS
from projects.engine.errors import EngineError
from projects.engine.joints import KINDS
from projects.engine.plan.records import AXES
from tests.engine.random_plans import random_build

FACES = ("left", "right", "front", "back", "bottom", "top")
ODD: tuple[Any, ...] = (
    None, True, 0, -1, 7, 0.5, 1e400, "", " ", "abc", "3/4", "19 mm", "{where}", "%s",
    "\n", "p0", "p0.left", "p1.right", "j0", "x", "z", "dado", "tenon", [], {}, [[]],
    ["p0.left"], {"of_thickness": "1/2"}, "ä" * 90, "\ud800", [None, 1], {"key": 3},
)  # fmt: skip


def spoilt(source: random.Random, document: dict[str, Any]) -> dict[str, Any]:
    """Return a copy with something odd, missing or twice somewhere."""
    made = copy.deepcopy(document)
    for _ in range(source.randint(1, 3)):
        target: Any = made
        while True:
            steps = (
                list(target) if isinstance(target, dict) else list(range(len(target)))
            )
            if not steps:
                break
            step = source.choice(steps)
            deeper = target[step]
            if isinstance(deeper, (dict, list)) and deeper and source.random() < 0.85:
                target = deeper
                continue
            how = source.choice(["set", "set", "delete", "twice"])
            if how == "delete":
                del target[step]
            elif how == "twice" and isinstance(target, list):
                target.append(copy.deepcopy(deeper))
            else:
                target[step] = copy.deepcopy(source.choice(ODD))
            break
    return made


def random_document(source: random.Random) -> dict[str, Any]:
    """Return a plan, ready or with things left out, and some of them spoilt."""
    plan, _ = random_build(source.randrange(10**6))
    for name in ("joints", "distances", "flush", "even"):
        share = source.choice([0, 0, 0, 0.2, 0.6])
        plan[name] = [entry for entry in plan[name] if source.random() >= share]
    return spoilt(source, plan) if source.random() < 0.5 else plan


class Operations:
    """Do random operations on a document; what they refuse is fine."""

    def __init__(self, source: random.Random) -> None:
        self.source = source

    def key(self, document: dict[str, Any], name: str) -> str:
        entries = document.get(name)
        keys: list[Any] = ["nobody", "p0"]
        if isinstance(entries, list):
            keys += [e.get("key") for e in entries if isinstance(e, dict)]
        return self.source.choice([key for key in keys if isinstance(key, str)])

    def face(self, document: dict[str, Any]) -> str:
        return f"{self.key(document, 'parts')}.{self.source.choice(FACES)}"

    def number(self) -> int:
        return self.source.randint(-1, 4)

    def text(self) -> Any:
        lengths = ["3/4", "22", "19 mm", "1/2", "abc", "", None, 3]
        return self.source.choice([*lengths, {"of_thickness": "1/2"}])

    def once(self, d: dict[str, Any]) -> dict[str, Any]:
        """Return the document after one operation; as it was where it is refused."""
        key, face, n, text = self.key, self.face, self.number, self.text
        kind = self.source.choice([*KINDS, "screw"])
        name = self.source.choice(["Left leg", "Rail", "Ä", "", "123", "p0"])
        where = self.source.choice(LISTS)
        part, other = key(d, "parts"), key(d, "parts")
        axis = self.source.choice(AXES)
        operations = [
            lambda: draft.set_title(d, name),
            lambda: draft.set_tape(d, text()),
            lambda: draft.set_units(d, self.source.choice(["in", "mm"])),
            lambda: draft.add_stock(d, name=name, thickness=text()),
            lambda: draft.change_stock(d, key(d, "stock"), thickness=text()),
            lambda: draft.remove_stock(d, key(d, "stock")),
            lambda: draft.add_part(d, name=name, length=axis),
            lambda: draft.change_part(d, part, width=axis, count=text()),
            lambda: draft.rename_part(d, part, name, key_too=True),
            lambda: draft.duplicate_part(d, part, name=name),
            lambda: draft.make_pair(d, part, axis=axis),
            lambda: draft.pair_parts(d, part, other),
            lambda: draft.unpair(d, part),
            lambda: draft.remove_part(d, part),
            lambda: draft.add_joint(
                d, kind=kind, guest=face(d), host=face(d), depth=text()
            ),
            lambda: draft.change_joint(
                d, key(d, "joints"), kind=kind, depth=text(), tenon=text()
            ),
            lambda: draft.change_joint(d, key(d, "joints"), host=face(d)),
            lambda: draft.remove_joint(d, key(d, "joints")),
            lambda: draft.add_distance(
                d, name=name, start=face(d), end=face(d), value=text(), held=n()
            ),
            lambda: draft.change_distance(
                d, key(d, "distances"), value=text(), fits=[part], measure="dry_fit"
            ),
            lambda: draft.remove_distance(d, key(d, "distances")),
            lambda: draft.make_flush(d, face(d), face(d)),
            lambda: draft.add_flush(d, [face(d), face(d)]),
            lambda: draft.add_to_flush(d, n(), face(d)),
            lambda: draft.remove_from_flush(d, n(), face(d)),
            lambda: draft.remove_flush(d, n()),
            lambda: draft.add_even(d, [[face(d), face(d)], [face(d), face(d)]]),
            lambda: draft.add_to_even(d, n(), face(d), face(d)),
            lambda: draft.remove_from_even(d, n(), n()),
            lambda: draft.remove_even(d, n()),
            lambda: draft.move(d, where, n(), to=n()),
            lambda: draft.rekey(d, where, key(d, where), "anew"),
            lambda: draft.add_step(d, title=name, stage="mill", parts=[part]),
            lambda: draft.remove_step(d, key(d, "steps")),
        ]
        try:
            return self.source.choice(operations)()
        except EngineError:
            return d
