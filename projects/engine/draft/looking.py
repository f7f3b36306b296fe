"""Look at a draft: what can't be read, what is open, what contradicts, what it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from projects.engine.draft.document import Document
from projects.engine.draft.guesses import drawn
from projects.engine.draft.names import Source, in_words, sources, unique
from projects.engine.draft.numeric import Positions
from projects.engine.draft.questions import groups, open_distances, questions
from projects.engine.draft.reading import Reading, read_loosely
from projects.engine.draft.records import (
    Contradiction,
    Drawn,
    Gives,
    Look,
    Question,
    Ref,
    Trouble,
)
from projects.engine.errors import EngineError, PlanError, ProblemsError
from projects.engine.fit.cuts import joint_cuts
from projects.engine.fit.equations import Input, difference
from projects.engine.fit.solve import Solution, check_plan, input_values
from projects.engine.fit.system import SizeKey, System, compile_draft
from projects.engine.joints import Cuts
from projects.engine.piece import housed_by
from projects.engine.plan.readings import Readings
from projects.engine.plan.records import DIMENSIONS, Plan
from projects.engine.units import exact_text


def look(document: Document) -> Look:
    """Return all that can be said about a draft. Raises nothing for any document."""
    reading = read_loosely(document)
    if reading.plan is None:
        return Look(faults=reading.faults)
    try:
        return _Looking(reading, reading.plan).look()
    except EngineError as error:
        # more work than is done for one plan: nothing else can be said
        trouble = _as_trouble(reading, reading.plan, error)
        return Look(faults=reading.faults, troubles=(trouble,), plan=reading.plan)


class _Looking:
    """Gather what is said about one plan."""

    def __init__(self, reading: Reading, plan: Plan) -> None:
        self.reading, self.plan = reading, plan
        self.system: System = compile_draft(plan)
        self.values: Mapping[Input, Fraction] = input_values(plan, Readings())
        self.sizes: dict[SizeKey, Fraction] = {
            key: form.value(self.values)
            for key, form in self.system.sizes.items()
            if key[1] != "thickness" or key[0] not in reading.guessed
        }
        self.distances = {
            key: form.value(self.values) if form else None
            for key, form in self.system.distances.items()
        }

    def look(self) -> Look:
        contradictions = self._contradictions()
        asked = tuple(open_distances(self.reading, self.plan, self.system))
        troubles = self._no_sizes()
        boxes, more = self._drawing()
        asked = (*more, *asked)
        solution = None
        errors: list[EngineError] = []
        if not (
            self.reading.faults
            or contradictions
            or troubles
            or any(question.needed for question in asked)
        ):
            solution, errors = self._checked()
        cuts: Mapping[str, Cuts] = {}
        if solution is not None:
            cuts = solution.cuts
        elif not contradictions:
            cuts, more_troubles = self._joints()
            troubles += more_troubles
        if errors and not troubles:
            troubles = [_as_trouble(self.reading, self.plan, one) for one in errors]
        return Look(
            faults=self.reading.faults,
            questions=asked,
            contradictions=contradictions,
            gives=self._gives(),
            troubles=tuple(troubles),
            drawn=boxes,
            sizes=self.sizes,
            distances=self.distances,
            cuts=cuts,
            housed=housed_by(self.plan, cuts),
            plan=self.plan,
            solution=solution,
        )

    def _checked(self) -> tuple[Solution | None, list[EngineError]]:
        try:
            return check_plan(self.plan), []
        except ProblemsError as error:
            return None, list(error.errors)
        except EngineError as error:
            return None, [error]

    def _drawing(self) -> tuple[tuple[Drawn, ...], tuple[Question, ...]]:
        try:
            positions = Positions(self.plan, self.values)
            by_axis = groups(self.plan, positions)
            asked = questions(self.reading, self.plan, by_axis)
            return drawn(self.plan, positions, by_axis, self.sizes), tuple(asked)
        except PlanError:
            # too much to place; whether it is too much to solve is told by check_plan
            return (), ()

    def _contradictions(self) -> tuple[Contradiction, ...]:
        made = []
        for loop in self.system.loops:
            off_mm = loop.off_mm(self.values)
            if off_mm:
                of = self._sources((*loop.names, loop.equation.name))
                made.append(
                    Contradiction(
                        message="these can't all hold: {entries}. They are off by {by}",
                        values={
                            "entries": in_words(of, most=len(of)),
                            "by": self._text(abs(off_mm)),
                        },
                        at=unique(source.ref for source in of),
                        off_mm=abs(off_mm),
                    )
                )
        return tuple(made)

    def _gives(self) -> tuple[Gives, ...]:
        made = []
        for n, distance in enumerate(self.plan.distances):
            mm = self.distances[distance.key]
            if distance.value is None or mm is None or mm == distance.value.mm:
                continue
            row = difference(distance.start, distance.end)
            builder = self.system.builder
            kept = builder.basis.express(row) or {}
            of = self._sources(builder.kept[k].name for k in sorted(kept))
            made.append(
                Gives(
                    message="{name} is wanted to be {wanted}, but comes out at {out}, "
                    "as these hold before it: {entries}",
                    values={
                        "name": distance.name,
                        "wanted": self._text(distance.value.mm),
                        "out": self._text(mm),
                        "entries": in_words(of),
                    },
                    at=unique(
                        (
                            self.reading.ref("distances", n),
                            *(source.ref for source in of),
                        )
                    ),
                    wanted_mm=distance.value.mm,
                    comes_out_mm=mm,
                    off_mm=mm - distance.value.mm,
                )
            )
        return tuple(made)

    def _sources(self, names: Iterable[str]) -> list[Source]:
        if not hasattr(self, "_by_name"):
            self._by_name = sources(self.reading, self.plan)
        return [self._by_name[name] for name in names]

    def _no_sizes(self) -> list[Trouble]:
        """Tell the sizes that come out at 0 or less."""
        made = []
        for n, part in enumerate(self.plan.parts):
            for dimension in DIMENSIONS:
                mm = self.sizes.get((part.key, dimension))
                if mm is None or mm > 0:
                    continue
                form = self.system.sizes[part.key, dimension]
                of = [self.reading.ref("parts", n), *self._inputs(form.terms)]
                made.append(
                    Trouble(
                        message="{part}: its {dimension} comes out at {size}, but must "
                        "be above 0",
                        values={
                            "part": part.name,
                            "dimension": dimension,
                            "size": self._text(mm),
                        },
                        at=unique(of),
                    )
                )
        return made

    def _inputs(self, terms: Iterable[tuple[Fraction, Input]]) -> Iterable[Ref]:
        kinds = {"depth": "joint", "wanted": "distance", "thickness": "thickness of"}
        names = [f"{kinds[item.kind]} {item.key}" for _, item in terms]
        return (source.ref for source in self._sources(names))

    def _joints(self) -> tuple[dict[str, Cuts], list[Trouble]]:
        """Return the cuts of the joints whose parts have their sizes, and troubles."""
        cuts, troubles = {}, []
        for joint in self.plan.joints:
            needed = [
                (face.part, dimension)
                for face in (joint.guest, joint.host)
                for dimension in DIMENSIONS
            ]
            if any(self.sizes.get(size, 0) <= 0 for size in needed):
                continue
            try:
                cuts[joint.key] = joint_cuts(
                    self.system, Readings(), joint, self.sizes, self.values
                )
            except EngineError as error:
                troubles.append(_as_trouble(self.reading, self.plan, error))
        return cuts, troubles

    def _text(self, mm: Fraction) -> str:
        return exact_text(mm, unit=self.plan.units)


def _as_trouble(reading: Reading, plan: Plan, error: EngineError) -> Trouble:
    """Return an error of the engine with names for keys, at the entries it names."""
    values = dict(error.values)
    at: list[Ref] = []
    for n, joint in enumerate(plan.joints):
        if error.message.startswith("joint {key}") and joint.key == values["key"]:
            values["key"] = plan.joint_name(joint)
            at.append(reading.ref("joints", n))
    for n, distance in enumerate(plan.distances):
        if error.message.startswith("distance {key}") and distance.key == values["key"]:
            values["key"] = distance.name
            at.append(reading.ref("distances", n))
    for n, part in enumerate(plan.parts):
        for name in ("part", "host"):
            if error.values.get(name) == part.key:
                values[name] = part.name
                at.append(reading.ref("parts", n))
    return Trouble(message=error.message, values=values, at=tuple(at))
