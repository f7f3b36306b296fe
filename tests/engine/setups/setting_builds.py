"""Small builds for tests of settings: frames of a stile and a rail, and a case."""

from typing import Any

from projects.engine.fit.solve import Solution
from projects.engine.plan.steps import Step
from projects.engine.setups.setting_records import Setting
from projects.engine.setups.settings import step_settings
from tests.engine.builds import boot_bench, data, inches, joint, part, size, solved


def step(machine: str, **more: Any) -> Step:
    """Return a step at a machine."""
    given: dict[str, Any] = {"key": "s", "title": "Step", "stage": "joinery", **more}
    return Step(machine=machine, **given)


def settings(
    solution: Solution, machine: str, *joints: str, **more: Any
) -> tuple[Setting, ...]:
    """Return the settings of a step for these joints, at this machine."""
    return step_settings(solution, step(machine, joints=joints, **more), machine)


def framed(kind: str, *, readings: Any = None, **more: Any) -> Solution:
    """Return a rail 4 in wide and 20 long whose left end meets a stile's right edge.

    The stile is 2 in wide and 30 long, both are 3/4 thick, their bottoms, fronts and
    backs level.
    """
    return solved(
        data(
            [part("stile", "zxy"), part("rail", "xzy")],
            joints=[joint("j", kind, "rail.left", "stile.right", **more)],
            distances=[
                size("stile", "length", "zxy", "30"),
                size("stile", "width", "zxy", "2"),
                size("rail", "length", "xzy", "20"),
                size("rail", "width", "xzy", "4"),
            ],
            flush=[
                ["stile.front", "rail.front"],
                ["stile.bottom", "rail.bottom"],
            ],
        ),
        readings,
    )


def case(**stops: Any) -> dict[str, Any]:
    """Return the bench with a shelf 6 in up in both sides, dadoes 3/8 deep."""
    of = boot_bench()
    for joint_ in of["joints"]:
        joint_ |= {"depth": "3/8", "clearance": "0.005", **stops}
    return of


def numbers(setting):
    """Return the numbers of a setting by name, in inches."""
    return {q.name: q.mm / inches(1) for q in setting.quantities}


def only(found):
    [setting] = found
    return setting


def where(setting):
    return setting.kind, setting.rest, setting.side
