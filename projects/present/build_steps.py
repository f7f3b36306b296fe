"""A build's steps: the one to do next, every step in a line, and one step whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from django.utils.translation import gettext

from projects.engine.fit.solve import Solution
from projects.engine.plan.readings import Fact
from projects.engine.plan.steps import STAGES, STOCK, Step
from projects.engine.shop.cautions import Caution
from projects.engine.shop.machines import MACHINES
from projects.engine.steps import cautions_of
from projects.engine.steps.standing import Course, StepStanding, Way, in_hand
from projects.engine.units import Shown
from projects.models import Machine, StepMark
from projects.present.step_numbers import PartNumbers, part_numbers
from projects.present.step_settings import WaySettings, way_settings
from projects.present.step_words import (
    Reason,
    log_targets,
    machine_name,
    reasons,
)
from projects.showing import Showing

MOST_REASONS = 2
MOST_INSTEAD = 4


@dataclass(frozen=True, kw_only=True)
class StepRow:
    """One step in a line: `mark` is the one beside it, `words` say where it stands."""

    number: int
    key: str
    title: str
    mark: str
    words: str
    standing: StepStanding


@dataclass(frozen=True, kw_only=True)
class StageRows:
    """The steps of one stage that follow each other."""

    name: str
    rows: tuple[StepRow, ...]


@dataclass(frozen=True, kw_only=True)
class WayLine:
    """One way to do a step; `why_not` says why it isn't open, "" where it is.

    `cautions` are those of its machine that don't stand with the step already.
    """

    key: str
    name: str
    note: str
    why_not: str
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, kw_only=True)
class MeasureLine:
    """What a step measures: where it is logged, what was read, what is expected."""

    target: str
    name: str
    read: Shown | None
    expected: Shown | None


@dataclass(frozen=True, kw_only=True)
class StepCard:
    """One step with all that is needed to do it.

    `cautions` are the step's and the way's, `general` how many of them stand at every
    machine and come first; `instead` are other steps that are open. `rests` are later
    steps that were done on it while it isn't done itself, `later` how many wait for it.
    """

    number: int
    total: int
    stage: str
    standing: StepStanding
    ways: tuple[WayLine, ...]
    cautions: tuple[Caution, ...]
    reasons: tuple[Reason, ...]
    to_log: tuple[tuple[str, str], ...]
    measures: tuple[MeasureLine, ...]
    settings: tuple[WaySettings, ...]
    parts: tuple[PartNumbers, ...]
    part_names: tuple[str, ...]
    instead: tuple[Step, ...]
    rests: tuple[Step, ...]
    marks: tuple[StepMark, ...]
    before: Step | None
    after: Step | None

    @property
    def step(self) -> Step:
        """The step."""
        return self.standing.step

    @property
    def open_ways(self) -> tuple[WayLine, ...]:
        """The ways that are open."""
        return tuple(way for way in self.ways if not way.why_not)

    @property
    def machine_cautions(self) -> tuple[Caution, ...]:
        """The cautions beyond the two that stand everywhere."""
        return self.cautions[2:]


@dataclass(frozen=True, kw_only=True)
class BuildSteps:
    """Where a build stands: the step in hand, all of them, and what fell out.

    `dropped` are the marks of steps that the build's revision has no more.
    """

    now: StepCard | None
    stages: tuple[StageRows, ...]
    done: int
    total: int
    last_done: StepMark | None
    dropped: tuple[StepMark, ...]


@dataclass(frozen=True, kw_only=True)
class Steps:
    """All that a build's steps are shown from; `machines` are the shop's."""

    solution: Solution
    course: Course
    standings: Sequence[StepStanding]
    marks: Sequence[StepMark]
    showing: Showing
    machines: Sequence[Machine] = ()

    @property
    def keys(self) -> frozenset[str]:
        """The keys of the steps."""
        return frozenset(step.key for step in self.course.steps)


def build_steps(steps: Steps) -> BuildSteps:
    """Return the page of a build's steps."""
    now = in_hand(steps.standings)
    rows = [_row(steps, n, s) for n, s in enumerate(steps.standings, start=1)]
    done = {s.step.key for s in steps.standings if s.is_done}
    newest = {mark.step: mark for mark in steps.marks}
    last = (mark for mark in reversed(steps.marks) if newest[mark.step] is mark)
    return BuildSteps(
        now=step_card(steps, now.step.key) if now else None,
        stages=tuple(
            StageRows(name=gettext(STAGES[stage]), rows=tuple(found))
            for stage, found in groupby(rows, lambda row: row.standing.step.stage)
        ),
        done=len(done),
        total=len(rows),
        last_done=next((mark for mark in last if mark.step in done), None),
        dropped=tuple(mark for mark in steps.marks if mark.step not in steps.keys),
    )


def _row(steps: Steps, number: int, standing: StepStanding) -> StepRow:
    why = reasons(standing, steps.solution, steps.course)
    # what comes first is news for the step in turn; a sign-off can be seen to early
    told = [r for n, r in enumerate(why) if n == 0 or r.kind in _EARLY]
    words = "; ".join(reason.words for reason in told[:MOST_REASONS])
    if standing.is_done:
        mark, words = "done", gettext("done")
    elif why:
        mark = why[0].mark
    elif standing.to_log:
        mark = "todo"
        names = [name for _, name in log_targets(standing.to_log, steps.solution)]
        words = gettext("open; measures {names}").format(names=", ".join(names))
    else:
        mark, words = "todo", gettext("open")
    return StepRow(
        number=number,
        key=standing.step.key,
        title=standing.step.title,
        mark=mark,
        words=words,
        standing=standing,
    )


_EARLY = ("sign_off", "no_machine", "doubt")


def step_card(steps: Steps, key: str, *, drawn: bool = False) -> StepCard | None:
    """Return one step with all that is needed to do it; None where there is none.

    With `drawn` its settings come with their drawings.
    """
    every = steps.standings
    at = next((n for n, s in enumerate(every) if s.step.key == key), None)
    if at is None:
        return None
    standing = every[at]
    why = reasons(standing, steps.solution, steps.course)
    cautions = _cautions(standing)
    step = standing.step
    named = {step for reason in why for step, _ in reason.steps}
    instead = [s.step for s in every if s.is_open and s.step.key not in named]
    done = {s.step.key for s in every if s.is_done}
    resting = [later for later in steps.course.after(key) if later.key in done]
    plan = steps.solution.plan
    return StepCard(
        number=at + 1,
        total=len(every),
        stage=gettext(STAGES[step.stage]),
        standing=standing,
        ways=tuple(_way(step, way, cautions) for way in standing.ways),
        cautions=cautions,
        reasons=why,
        to_log=log_targets(standing.to_log, steps.solution),
        measures=_measures(steps, steps.course.measures[key]),
        settings=way_settings(
            standing,
            steps.solution,
            steps.showing,
            not_yet=_not_yet(why),
            drawn=drawn,
            has=steps.machines,
        ),
        parts=part_numbers(steps.solution, step, steps.showing, not_yet=_not_yet(why)),
        part_names=tuple(plan.part_by_key[key].name for key in step.parts),
        instead=tuple(instead[:MOST_INSTEAD]) if why else (),
        rests=tuple(resting) if not standing.is_done else (),
        marks=tuple(mark for mark in steps.marks if mark.step == key),
        before=every[at - 1].step if at else None,
        after=every[at + 1].step if at + 1 < len(every) else None,
    )


def _not_yet(why: Sequence[Reason]) -> str:
    """Return the word beside every number of a step that is blocked."""
    if not why:
        return ""
    return gettext("in doubt") if why[0].kind == "doubt" else gettext("not yet")


def _cautions(standing: StepStanding) -> tuple[Caution, ...]:
    """Return the cautions of a step, and those of the way that is open."""
    step = standing.step
    found = list(cautions_of(step))
    for way in standing.open_ways[:1]:
        found += cautions_of(replace(step, machine=way.machine))
    return tuple(dict.fromkeys(found))


def _way(step: Step, way: Way, told: Sequence[Caution]) -> WayLine:
    name = machine_name(way.machine)
    why_not = {
        "open": "",
        "not_signed": gettext("not signed off for it"),
        "not_here": gettext("no {machine} in this shop").format(machine=name),
    }
    own = cautions_of(replace(step, machine=way.machine))
    return WayLine(
        key=way.machine,
        name=gettext(MACHINES[way.machine].name),
        note=way.note,
        why_not=why_not[way.state],
        cautions=tuple(caution for caution in own if caution not in told),
    )


def _measures(steps: Steps, keys: Sequence[str]) -> tuple[MeasureLine, ...]:
    solution, showing = steps.solution, steps.showing
    found = []
    for (target, name), key in zip(log_targets(keys, solution), keys, strict=True):
        expected = read = None
        if not key.startswith(STOCK):
            reading = solution.readings.facts.get(Fact(kind="distance", key=key))
            mm = solution.distances[key]
            read = showing.of(reading.length.mm) if reading else None
            expected = showing.of(mm) if mm is not None and not reading else None
        else:
            points = solution.readings.stock.get(key.removeprefix(STOCK), ())
            if points:
                total = sum((point.length.mm for point in points), Fraction(0))
                read = showing.difference(total / len(points))
        found.append(
            MeasureLine(target=target, name=name, read=read, expected=expected)
        )
    return tuple(found)
