"""Where builds of a small plan stand, asked for in few words."""

import json

from projects.engine.fit.solve import solve
from projects.engine.plan.readings import read_readings
from projects.engine.plan.steps import Step
from projects.engine.steps.standing import course_of, in_hand, step_standings
from tests.engine.steps.plans import case

EVERY_KIND = {
    "jointer",
    "planer",
    "table_saw",
    "mitre_saw",
    "router",
    "mortiser",
    "sander",
    "hand_tools",
}
MEASURED = {"stock": {"board": ["0.742"]}}


def step(key, *parts, stage="mill", **more):
    return Step(key=key, title=key.capitalize(), stage=stage, parts=parts, **more)


def stand(
    *steps, readings=MEASURED, done=(), listed=EVERY_KIND, signed=EVERY_KIND, plan=None
):
    """Return where a build of `case` stands with these steps, by key."""
    plan = plan or case()
    solution = solve(plan, read_readings(json.dumps(readings), plan))
    course = course_of(plan, steps)
    found = step_standings(solution, course, done=done, listed=listed, signed=signed)
    return {standing.step.key: standing for standing in found}


def chosen_of(standings):
    """Return the step in hand, which there is."""
    found = in_hand(standings)
    assert found is not None
    return found


def blocks(standing):
    return [(block.kind, block.about) for block in standing.blocks]
