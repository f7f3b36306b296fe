"""What nothing fixes yet, in plain words, with what would fix it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from projects.engine.draft.names import listed, unique
from projects.engine.draft.numeric import Positions
from projects.engine.draft.reading import Reading
from projects.engine.draft.records import Fix, Question, Ref
from projects.engine.fit.system import System
from projects.engine.plan.records import AXES, Axis, Face, Part, Plan

DIRECTIONS: dict[Axis, str] = {
    "x": "from left to right",
    "y": "from front to back",
    "z": "from bottom to top",
}


@dataclass(frozen=True, kw_only=True)
class AxisGroups:
    """Hold which faces of one axis are fixed against each other.

    `number` is a face's group. `home` is the group that the piece is taken to be:
    the one with the most faces.
    """

    axis: Axis
    number: dict[Face, int]
    home: int

    def is_home(self, part: Part) -> bool:
        """Say whether one of a part's two faces is in the home group."""
        return any(self.number[face] == self.home for face in part.faces_on(self.axis))


def groups(plan: Plan, positions: Positions) -> dict[Axis, AxisGroups]:
    """Return for each axis which of the plan's faces are fixed against each other."""
    made = {}
    for axis in AXES:
        faces = [face for part in plan.parts for face in part.faces_on(axis)]
        number = positions.groups(faces)
        home = _largest(number, faces)
        made[axis] = AxisGroups(axis=axis, number=number, home=home)
    return made


def _largest(number: dict[Face, int], faces: Iterable[Face]) -> int:
    count: dict[int, int] = {}
    for face in faces:
        count[number[face]] = count.get(number[face], 0) + 1
    # of two as large the one that comes first in the plan
    return max(count, key=lambda n: count[n])


def open_distances(reading: Reading, plan: Plan, system: System) -> list[Question]:
    """Return the distances to be shown that nothing fixes."""
    made = []
    for n, distance in enumerate(plan.distances):
        if system.distances[distance.key] is not None or distance.dry_fit:
            continue
        start, end = distance.start, distance.end
        made.append(
            Question(
                kind="distance",
                needed=True,
                message="{name}: nothing fixes how far {end} is from {start}. Say how "
                "much it is, or tie the two parts together",
                values={
                    "name": distance.name,
                    "end": plan.face_name(end),
                    "start": plan.face_name(start),
                },
                at=(reading.ref("distances", n),),
                faces=(str(start), str(end)),
                axes=(start.axis,),
                fixes=(Fix(kind="distance", faces=(str(start), str(end))),),
            )
        )
    return made


def questions(
    reading: Reading, plan: Plan, by_axis: dict[Axis, AxisGroups]
) -> list[Question]:
    """Return what sizes and places nothing fixes: sizes first, then places.

    Faces that are fixed against each other are asked about once.
    """
    asker = _Asker(reading, plan)
    made: list[Question] = []
    adrift: dict[tuple[str, ...], list[Axis]] = {}
    for axis in AXES:
        for assembly in _assemblies(plan, by_axis[axis]):
            is_home = by_axis[axis].home in assembly
            local = by_axis[axis].home if is_home else _largest_of(assembly)
            for number, faces in assembly.items():
                if number != local:
                    made.append(asker.free(axis, faces, is_home=is_home))
            if not is_home:
                parts = {
                    face.part: None for faces in assembly.values() for face in faces
                }
                adrift.setdefault(tuple(parts), []).append(axis)
    return [*made, *(asker.adrift(keys, tuple(axes)) for keys, axes in adrift.items())]


def _largest_of(assembly: dict[int, list[Face]]) -> int:
    return max(assembly, key=lambda number: len(assembly[number]))


def _assemblies(plan: Plan, groups: AxisGroups) -> list[dict[int, list[Face]]]:
    """Return the groups of an axis, put together where a part has a face in each."""
    of: dict[int, dict[int, list[Face]]] = {}
    for part in plan.parts:
        low, high = part.faces_on(groups.axis)
        for face in (low, high):
            number = groups.number[face]
            of.setdefault(number, {number: []})[number].append(face)
        one, other = of[groups.number[low]], of[groups.number[high]]
        if one is not other:
            one.update(other)
            for number in other:
                of[number] = one
    return list({id(assembly): assembly for assembly in of.values()}.values())


class _Asker:
    """Put questions into words."""

    def __init__(self, reading: Reading, plan: Plan) -> None:
        self.plan = plan
        self.refs = {
            part.key: reading.ref("parts", n) for n, part in enumerate(plan.parts)
        }

    def _at(self, faces: list[Face]) -> tuple[Ref, ...]:
        return unique(self.refs[face.part] for face in faces)

    def free(self, axis: Axis, faces: list[Face], *, is_home: bool) -> Question:
        """Ask where faces that are fixed against each other are."""
        parts = list(dict.fromkeys(face.part for face in faces))
        # of a part with both faces here the size is known, so it can't be set
        lone = [f for f in faces if Face(part=f.part, name=f.opposite) not in faces]
        face = (lone or faces)[0]
        part = self.plan.part_by_key[face.part]
        low, high = part.faces_on(axis)
        values: dict[str, object] = {
            "part": part.name,
            "face": face.name,
            "dimension": part.dimension_on(axis),
            "direction": DIRECTIONS[axis],
            "low": low.name,
            "high": high.name,
        }
        names = [self.plan.part_by_key[key].name for key in parts]
        if len(parts) == 1 and is_home:
            message = (
                "{part}: nothing says where its {face} is. Set its {dimension}, or "
                "join its {face} to something"
            )
        elif len(parts) == 1:
            message = (
                "{part}: nothing says what its {dimension} is, {direction}. Set it, or "
                "join its {low} and its {high} to something"
            )
        elif len({face.name for face in faces}) == 1:
            values["parts"] = listed(names)
            message = (
                "{parts}: nothing says where their {face} is. Set the {dimension} of "
                "{part}, or join the {face} of one of them to something"
            )
        else:
            values["faces"] = listed(
                [f"{self.plan.part_by_key[f.part].name} {f.name}" for f in faces]
            )
            message = (
                "{faces}: they are tied together, but nothing says where they are, "
                "{direction}. Set the {dimension} of {part}, or join one of them to "
                "something"
            )
        return Question(
            kind="face" if is_home or len(parts) > 1 else "size",
            needed=True,
            message=message,
            values=values,
            at=self._at(faces),
            faces=tuple(map(str, faces)),
            axes=(axis,),
            fixes=(
                Fix(kind="distance", faces=(str(low), str(high))),
                Fix(kind="joint", faces=(str(face),)),
                Fix(kind="flush", faces=(str(face),)),
            ),
        )

    def adrift(self, keys: tuple[str, ...], axes: tuple[Axis, ...]) -> Question:
        """Ask where parts are that nothing ties to the rest on some axes."""
        parts = [self.plan.part_by_key[key] for key in keys]
        faces = [str(parts[0].faces_on(axis)[0]) for axis in axes]
        alone = len(parts) == 1
        if axes == AXES:
            message = "{parts}: nothing ties {them} to the rest of the piece yet"
        else:
            message = "{parts}: nothing says where {they}, {directions}"
        cuts = self._has_slots(keys)
        if cuts:
            message += ", so nobody can tell where its slot is cut"
        answer = "Set a distance from another part, join {them} to one, or make a face "
        return Question(
            kind="place",
            needed=False,
            cuts=cuts,
            message=f"{message}. {answer}flush",
            values={
                "parts": listed([part.name for part in parts]),
                "they": "it is" if alone else "they are",
                "them": "it" if alone else "them",
                "directions": listed([DIRECTIONS[axis] for axis in axes]),
            },
            at=tuple(self.refs[key] for key in keys),
            faces=tuple(faces),
            axes=axes,
            fixes=tuple(
                fix
                for face in faces
                for fix in (
                    Fix(kind="distance", faces=(face, "")),
                    Fix(kind="joint", faces=(face,)),
                    Fix(kind="flush", faces=(face,)),
                )
            ),
        )

    def _has_slots(self, keys: tuple[str, ...]) -> bool:
        """Say whether something is cut where one of these parts meets another."""
        return any(
            (joint.guest.part in keys) is not (joint.host.part in keys)
            and joint.kind != "butt"
            for joint in self.plan.joints
        )
