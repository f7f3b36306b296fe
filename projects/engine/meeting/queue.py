"""A plan from an order: step by step, each gets the first place that is still free.

An order gives each open step a number, small first. `Queue.serve` goes through it and
gives every step the way that ends first; so any order makes a plan that keeps all
rules, and a search need only look for a good order.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from projects.engine.meeting.credit import step_credit
from projects.engine.meeting.records import Machine, Night, Turn, in_order, setup_of
from projects.engine.meeting.room import Open, closes, in_lanes, lanes, open_steps

NEVER = 10**9
Lane = tuple[int, Hashable]
"""Until when a lane is taken, and its setup then."""
_Way = tuple[int, int, Hashable, int, int, int]
"""Machine (-1: bench), minutes, setup, last start, minutes of a change, which way."""


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
        self._begun = [_begun_lanes(night, machine) for machine in night.machines]
        self._read_steps()

    def _read_steps(self) -> None:
        """Put what `serve` looks at into plain lists, which it runs through often."""
        place = {(step.student, step.task): n for n, step in enumerate(self.steps)}
        whose = {key: n for n, key in enumerate(dict.fromkeys(s for s, _ in place))}
        self.student = [whose[step.student] for step in self.steps]
        self.of_student: list[list[int]] = [[] for _ in whose]
        for n, student in enumerate(self.student):
            self.of_student[student].append(n)
        self._needs = [
            [place[s.student, key] for key in s.after if (s.student, key) in place]
            for s in self.steps
        ]
        self.ways = [len(step.ways) for step in self.steps]
        self._choices = [self._ways(n, step) for n, step in enumerate(self.steps)]
        self._free = [min(self.steps[n].head for n in own) for own in self.of_student]
        done = {student.key: student.done for student in self.night.students}
        for turn in self.night.begun:
            done[turn.student] += 1
        self._done = [done[student] for student in whose]
        most = max(self._done, default=0) + len(self.steps) + 1
        minutes = self.night.minutes
        self.first_step = step_credit(minutes, 1)
        self._credit = [0, *(step_credit(minutes, k) for k in range(1, most + 1))]

    def _ways(self, n: int, step: Open) -> list[list[_Way]]:
        """Return the one way for each that can be wanted, and last all of them."""
        at = {machine.key: k for k, machine in enumerate(self.night.machines)}
        every: list[_Way] = []
        for which, way in enumerate(step.ways):
            machine = self.night.machine_by_key.get(way.machine or "")
            last = closes(self.night, way.machine) - way.minutes
            change = machine.setup_minutes if machine and machine.changes else 0
            place = at[machine.key] if machine else -1
            alone = way.setup or n
            every.append((place, way.minutes, alone, last, change, which))
        return [*([way] for way in every), every]

    def serve(self, order: Sequence[float], wanted: Sequence[int]) -> Served:
        """Return the plan of an order; `wanted` names a step's way, -1 the first done.

        A step that can't end in time, or needs one that can't, is left out.
        """
        # the inner loop of a search, written for speed
        lanes_of = [list(every) for every in self._begun]
        free, placed = list(self._free), [False] * len(order)
        done, minutes, credit = list(self._done), self.night.minutes, self._credit
        students, needs, choices = self.student, self._needs, self._choices
        points, places = 0, []
        for n in sorted(range(len(order)), key=order.__getitem__):
            if not all(map(placed.__getitem__, needs[n])):
                continue
            student = students[n]
            ready = free[student]
            end = NEVER
            for way in choices[n][wanted[n]]:
                machine, takes, setup, last, change, _ = way
                if machine < 0:
                    start, lane = ready, -1
                elif len(lanes_of[machine]) == 1:
                    lane = 0
                    start, there = lanes_of[machine][0]
                    if change and there != setup and there is not None:
                        start += change
                    if start < ready:
                        start = ready
                else:
                    start, lane = _first_free(lanes_of[machine], ready, setup, change)
                if start <= last and start + takes < end:
                    end, best, begins, at = start + takes, way, start, lane
            if end == NEVER:
                continue
            if at >= 0:
                lanes_of[best[0]][at] = (end, best[2])
            placed[n] = True
            free[student] = end
            done[student] += 1
            points += credit[done[student]] + minutes - end
            places.append((n, best[5], at, begins))
        return Served(points=points, places=tuple(places))

    def turns(self, served: Served) -> tuple[Turn, ...]:
        """Return a served order as turns, after those that have begun."""
        found = list(self.night.begun)
        for n, which, lane, start in served.places:
            step = self.steps[n]
            way = step.ways[which]
            unit = None
            if way.machine is not None:
                unit = lane // self.night.machine_by_key[way.machine].most_people
            found.append(step.turn(way, unit, start))
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


def _first_free(
    lanes: Sequence[Lane], ready: int, setup: Hashable, change: int
) -> tuple[int, int]:
    """Return when a step can begin at a machine, and in the fullest such lane."""
    first, best, latest = NEVER, 0, -1
    for lane, (until, there) in enumerate(lanes):
        start = until
        if change and there is not None and there != setup:
            start += change
        if start < ready:
            start = ready
        if start < first or (start == first and until > latest):
            first, best, latest = start, lane, until
    return first, best


def _begun_lanes(night: Night, machine: Machine) -> list[Lane]:
    """Return until when each lane is taken, and its setup then."""
    found: list[Lane] = [(night.now, None)] * lanes(machine)
    begun = [turn for turn in night.begun if turn.machine == machine.key]
    for turn, lane in in_lanes(machine, begun):
        found[lane] = (turn.end, setup_of(night, turn))
    return found
