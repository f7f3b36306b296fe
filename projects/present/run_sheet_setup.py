"""One setup of a run sheet: what to set, what changed, how parts are laid, for whom."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, partial

from django.utils.translation import gettext

from projects.engine.drawing import svg
from projects.engine.fit.solve import Solution
from projects.engine.setups.run_sheet import Job, Setup
from projects.engine.setups.setting_drawing import setting_drawing
from projects.engine.setups.setting_records import Name, Setting
from projects.engine.setups.setting_words import (
    piece_words,
    setting_words,
)
from projects.present.cut_tools import WayLines
from projects.present.drawings import FONT, length_text
from projects.present.fine_numbers import drawn_length
from projects.present.run_sheet_numbers import (
    NumberLine,
    as_set,
    change_words,
    number_label,
    number_lines,
)
from projects.present.run_sheet_way import way_lines
from projects.run_sheet_moves import build_of, cuts_key, cuts_of
from projects.run_sheets import Night, Task
from projects.showing import Showing

DRAWING_MM = (62.0, 80.0)
"""How wide a drawing stands on paper, and how tall it may become [mm]."""
BESIDE = 7
"""How many lines of parts and students stand beside a drawing on paper."""
TITLES = {
    "thickness": lambda: gettext("Thickness"),
    "rip": lambda: gettext("Rip"),
    "crosscut": lambda: gettext("Crosscut"),
    "slot": lambda: gettext("Slot"),
    "groove": lambda: gettext("Groove"),
    "rabbet": lambda: gettext("Rabbet"),
    "lap": lambda: gettext("Lap"),
    "mortise": lambda: gettext("Mortise"),
    "shoulder": lambda: gettext("Shoulder"),
    "cheek": lambda: gettext("Cheek"),
    "hole": lambda: gettext("Hole"),
    "notch": lambda: gettext("Notch"),
}


@dataclass(frozen=True, kw_only=True)
class LayLine:
    """How parts are laid, a line a piece; `who` is empty where it is so for all."""

    lines: tuple[str, ...]
    who: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CutRow:
    """One student at a setup, with one box to tick.

    `own` says what they wanted where the setup is a little off it. `is_over` where
    their steps are marked as done: there is nothing to tick any more.
    """

    build: int
    name: str
    steps: str
    parts: str
    count: int
    own: str
    key: str
    is_cut: bool
    is_over: bool
    in_doubt: bool


@dataclass(frozen=True, kw_only=True)
class SetupBlock:
    """One setup with all that is needed to set it and to cut at it."""

    number: int
    title: str
    numbers: tuple[NumberLine, ...]
    change: str
    said: tuple[str, ...]
    way: WayLines | None
    lays: tuple[LayLine, ...]
    rows: tuple[CutRow, ...]
    drawing: str

    @property
    def count(self) -> int:
        """How many pieces are cut."""
        return sum(row.count for row in self.rows)

    @property
    def is_long(self) -> bool:
        """Tell whether it has more lines than stand beside a drawing on paper."""
        return len(self.rows) + sum(len(lay.lines) for lay in self.lays) > BESIDE

    @property
    def is_cut(self) -> bool:
        """Tell whether everybody's are cut."""
        return all(row.is_cut for row in self.rows)


def setup_blocks(night: Night, showing: Showing) -> tuple[SetupBlock, ...]:
    """Return the setups of a sheet in their order."""
    found: list[SetupBlock] = []
    before: Setup | None = None
    for number, setup in enumerate(night.sheet.setups, start=1):
        last = found[-1] if found else None
        found.append(_block(night, setup, before, last, number, showing))
        before = setup
    return tuple(found)


def _block(
    night: Night,
    setup: Setup,
    before: Setup | None,
    last: SetupBlock | None,
    number: int,
    showing: Showing,
) -> SetupBlock:
    first = setup.jobs[0]
    task = night.task_of[_of(first)]
    setting = as_set(first.setting, setup)
    way = way_lines(night.machine, setup, night.tolerances, showing)
    same_way = last is not None and way is not None and way == last.way
    numbers = number_lines(setup, setting, before, same_way=same_way, showing=showing)
    show = partial(_show, setup=setup, showing=showing)
    return SetupBlock(
        number=number,
        title=TITLES[setup.kind](),
        numbers=numbers,
        change=change_words(numbers) if before else "",
        said=tuple(
            words.text(show=show, say=gettext)
            for words in setting_words(task.solution.plan, setting)
        ),
        way=way,
        lays=_lays(night, setup, show),
        rows=cut_rows(night, setup, showing),
        drawing=_drawing(task.solution, setting, showing),
    )


def _show(mm: Fraction, *, setup: Setup, showing: Showing) -> str:
    """Word a length; a slot is cut to a caliper reading, finer than any tape."""
    if mm == setup.at.get("width") and showing.style == "tape":
        showing = replace(showing, style="in")
    return length_text(mm, showing)


def _of(job: Job) -> tuple[int, str]:
    return build_of(job), job.step


def _lays(night: Night, setup: Setup, show: partial[str]) -> tuple[LayLine, ...]:
    """Return how the parts lie, told once where it is the same for several."""
    found: dict[tuple[str, ...], dict[int, str]] = {}
    for job in setup.jobs:
        task = night.task_of[_of(job)]
        setting = as_set(job.setting, setup)
        lines = tuple(
            " ".join(
                words.text(show=show, say=gettext)
                for words in piece_words(task.solution.plan, setting, piece)
            )
            for piece in setting.pieces
        )
        student = task.person.student
        found.setdefault(tuple(dict.fromkeys(lines)), {})[student.build] = student.name
    everybody = {job.who for job in setup.jobs}
    by_who: dict[tuple[str, ...], list[str]] = {}
    for lines, who in found.items():
        names = () if set(who) == everybody else tuple(who.values())
        by_who.setdefault(names, []).extend(lines)
    return tuple(
        LayLine(lines=tuple(dict.fromkeys(lines)), who=who)
        for who, lines in by_who.items()
    )


def cut_rows(night: Night, setup: Setup, showing: Showing) -> tuple[CutRow, ...]:
    """Return the students at a setup, by name."""
    jobs: dict[int, list[Job]] = {}
    for job in setup.jobs:
        jobs.setdefault(_of(job)[0], []).append(job)
    rows = [_row(night, setup, every, showing) for every in jobs.values()]
    return tuple(sorted(rows, key=lambda row: (row.name, row.build)))


def _row(night: Night, setup: Setup, jobs: Sequence[Job], showing: Showing) -> CutRow:
    tasks = [night.task_of[_of(job)] for job in jobs]
    student = tasks[0].person.student
    cuts = [cut for job in jobs for cut in cuts_of(job)]
    steps = {task.place.number: task.step.title for task in tasks}
    return CutRow(
        build=student.build,
        name=student.name,
        steps="; ".join(
            gettext("step {n}, {title}").format(n=n, title=title)
            for n, title in sorted(steps.items())
        ),
        parts=", ".join(_parts(tasks, jobs)),
        count=sum(job.setting.count for job in jobs),
        own=wanted(jobs, setup.at, showing),
        key=cuts_key(cuts),
        is_cut=all(cut in night.cut for cut in cuts),
        is_over=all(task.place.standing.is_done for task in tasks),
        in_doubt=any(job.setting.in_doubt for job in jobs),
    )


def _parts(tasks: Sequence[Task], jobs: Sequence[Job]) -> list[str]:
    names: dict[str, int] = {}
    for task, job in zip(tasks, jobs, strict=True):
        for piece in job.setting.pieces:
            part = task.solution.plan.part_by_key[piece.part]
            names[part.name] = piece.count
    return [f"{n} × {name}" if n > 1 else name for name, n in names.items()]


def wanted(jobs: Sequence[Job], at: Mapping[Name, Fraction], showing: Showing) -> str:
    """Return what a student wants where a setup is off it, exactly enough to tell."""
    fine = replace(showing, style="in") if showing.style == "tape" else showing
    said = {
        f"{number_label(q.name, job.setting).lower()} {length_text(q.mm, fine)}"
        for job in jobs
        for q in job.setting.quantities
        if q.mm is not None and q.name in ("stop", "width", "height")
        if length_text(q.mm, fine) != length_text(at.get(q.name, q.mm), fine)
    }
    return ", ".join(sorted(said))


@lru_cache(maxsize=512)
def _drawing(solution: Solution, setting: Setting, showing: Showing) -> str:
    show = partial(drawn_length, setting=setting, showing=showing)
    picture = setting_drawing(
        solution,
        setting,
        show=show,
        say=gettext,
        width_mm=DRAWING_MM[0],
        height_mm=DRAWING_MM[1],
        text_mm=3.6,
    )
    return svg(picture, font_family=FONT) if picture else ""
