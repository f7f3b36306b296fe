"""A plan from an order: step by step, each gets the first place that is still free.

An order gives each open step a number, small first. `Queue.serve` goes through it and
gives every step the way that ends first; so any order makes a plan that keeps all
rules, and a search need only look for a good order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from projects.engine.meeting.credit import step_credit
from projects.engine.meeting.records import Machine, Night, Turn, in_order, setup_of
from projects.engine.meeting.room import closes, in_lanes, lanes, open_steps

NEVER = 10**9


@dataclass(frozen=True, kw_only=True)
class Served:
    """Hold what an order comes to: its points, and (step, way, lane, start) by turn."""

    points: int
    places: tuple[tuple[int, int, int, int], ...]


class Queue:
    """Serve the open steps of a night in any order; steps are counted as `steps` is."""

    def __init__(self, night: Night) -> None:
        self.night = night
        self.steps = open_steps(night)
        self.of_student: list[list[int]] = []
        self._machines = list(night.machines)
        self._begun = [_begun_lanes(night, machine) for machine in self._machines]
        self._read_steps()

    def _read_steps(self) -> None:
        """Put what `serve` looks at into plain lists, which it runs through often."""
        place = {(step.student, step.task): n for n, step in enumerate(self.steps)}
        at = {machine.key: n for n, machine in enumerate(self._machines)}
        whose = {step.student: n for n, step in enumerate(self.steps)}
        students = {student: n for n, student in enumerate(whose)}
        self.of_student = [[] for _ in students]
        self.student = [students[step.student] for step in self.steps]
        for n, student in enumerate(self.student):
            self.of_student[student].append(n)
        self._needs = [
            tuple(
                place[step.student, key]
                for key in step.after
                if (step.student, key) in place
            )
            for step in self.steps
        ]
        self.ways = [
            tuple(
                (
                    -1 if way.machine is None else at[way.machine],
                    way.minutes,
                    way.setup or f"{n}",
                    closes(self.night, way.machine),
                )
                for way in step.ways
            )
            for n, step in enumerate(self.steps)
        ]
        done = {student.key: student.done for student in self.night.students}
        for turn in self.night.begun:
            done[turn.student] += 1
        self._done = [done[student] for student in students]
        most = max(self._done, default=0) + len(self.steps) + 1
        minutes = self.night.minutes
        self.first_step = step_credit(minutes, 1)
        self._credit = [0, *(step_credit(minutes, k) for k in range(1, most + 1))]

    def serve(self, order: Sequence[float], wanted: Sequence[int]) -> Served:
        """Return the plan of an order; `wanted` names a step's way, -1 the first done.

        A step that can't end in time, or needs one that can't, is left out.
        """
        lanes_free = [[free for free, _ in every] for every in self._begun]
        lanes_set = [[setup for _, setup in every] for every in self._begun]
        student_free = [0] * len(self.of_student)
        done = list(self._done)
        placed = [False] * len(order)
        points, places = 0, []
        for n in sorted(range(len(order)), key=order.__getitem__):
            if not all(placed[first] for first in self._needs[n]):
                continue
            student = self.student[n]
            ready = max(student_free[student], self.steps[n].head)
            ways = self.ways[n]
            end, best = NEVER, (0, 0, 0)
            for which in range(len(ways)) if wanted[n] < 0 else (wanted[n],):
                machine, minutes, setup, until = ways[which]
                start, lane = ready, -1
                if machine >= 0:
                    start, lane = self._first_free(
                        machine, lanes_free[machine], lanes_set[machine], ready, setup
                    )
                if start + minutes <= until and start + minutes < end:
                    end, best = start + minutes, (which, lane, start)
            if end == NEVER:
                continue
            which, lane, start = best
            if lane >= 0:
                machine, _, setup, _ = ways[which]
                lanes_free[machine][lane], lanes_set[machine][lane] = end, setup
            placed[n] = True
            student_free[student] = end
            done[student] += 1
            points += self._credit[done[student]] + self.night.minutes - end
            places.append((n, which, lane, start))
        return Served(points=points, places=tuple(places))

    def _first_free(
        self,
        machine: int,
        free: list[int],
        setups: list[str | None],
        ready: int,
        setup: str,
    ) -> tuple[int, int]:
        """Return when a step can begin at a machine, and in the fullest such lane."""
        record = self._machines[machine]
        first, best, taken_until = NEVER, 0, -1
        for lane, until in enumerate(free):
            opens = until
            if record.changes and setups[lane] not in (None, setup):
                opens += record.setup_minutes
            start = max(opens, ready)
            if start < first or (start == first and until > taken_until):
                first, best, taken_until = start, lane, until
        return first, best

    def turns(self, served: Served) -> tuple[Turn, ...]:
        """Return a served order as turns, after those that have begun."""
        found = list(self.night.begun)
        for n, which, lane, start in served.places:
            step = self.steps[n]
            way = step.ways[which]
            unit = None
            if way.machine is not None:
                unit = lane // self.night.machine_by_key[way.machine].most_people
            found.append(
                Turn(
                    student=step.student,
                    task=step.task,
                    machine=way.machine,
                    unit=unit,
                    start=start,
                    end=start + way.minutes,
                )
            )
        return in_order(found)

    def order_of(self, turns: Sequence[Turn]) -> list[float]:
        """Return the order of a plan; steps that are not in it come last."""
        start = {(turn.student, turn.task): turn.start for turn in turns}
        order = []
        for own in self.of_student:
            for rank, n in enumerate(own):
                key = self.steps[n].student, self.steps[n].task
                order.append(float(start.get(key, self.night.minutes + rank)))
        return order


def _begun_lanes(night: Night, machine: Machine) -> list[tuple[int, str | None]]:
    """Return until when each lane is taken, and its setup then."""
    found: list[tuple[int, str | None]] = [(night.now, None)] * lanes(machine)
    begun = [turn for turn in night.begun if turn.machine == machine.key]
    for turn, lane in in_lanes(machine, begun):
        found[lane] = (turn.end, setup_of(night, turn))
    return found
